// A separation in small, with what was found in it drawn over it: the finest line, the finest gap, the rows of a halftone.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Figure, labelOf } from "../ask/answer/value";
import { entryOf } from "../model/catalogue";
import { answerOf, type Answer } from "../work/engine";
import type { Small } from "./picture";

interface Length { value: number; unit: string }
interface Drawn { small: Small; wide: number; high: number; resolution: string; answer: Answer; name: string }

const { answer: schema } = entryOf("artwork.measure")!;
const PLACES = ["finest_line", "finest_gap"] as const;

/** How many pixels of the picture a length is; undefined until the worker has said so for this picture. */
function usePixels(resolution: string, units: string[]): ((length: Length) => number) | undefined {
  const [known, know] = useState<{ of: string; perUnit: Map<string, number> }>();
  const of = [resolution, ...new Set(units)].join(" ");
  useEffect(() => {
    let away = false;
    const per = async (unit: string) => [unit, ((await answerOf("unit.convert", { quantity: resolution, to: `/${unit}` })).quantity as unknown as Length).value] as const;
    Promise.all([...new Set(units)].map(per)).then((found) => away || know({ of, perUnit: new Map(found) }), () => {});
    return () => {
      away = true;
    };
  }, [of]);
  // What was said of the picture before it would draw at wrong places.
  if (known?.of !== of) return undefined;
  return ({ value, unit }) => value * (known.perUnit.get(unit) ?? NaN);
}

/** Ten rows of a halftone between two lines, along its angle. */
function Rows({ ruling, angle, wide, high, pixels }: { ruling: Length; angle: Length; wide: number; high: number; pixels: (length: Length) => number }) {
  const step = 10 * pixels({ value: 1 / ruling.value, unit: ruling.unit.replace(/^\//, "") });
  const reach = Math.max(wide, high);
  return (
    <g class="rows-of-dots" transform={`rotate(${-angle.value} ${wide / 2} ${high / 2})`}>
      {[-1, 0, 1].map((row) => <path key={row} d={`M${wide / 2 - reach / 4} ${high / 2 + row * step}h${reach / 2}`} />)}
    </g>
  );
}

export function Found({ small, wide, high, resolution, answer, name }: Drawn) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const image = new ImageData(small.wide, small.high);
    small.greys.forEach((grey, index) => image.data.set([grey, grey, grey, 255], 4 * index));
    canvas.current?.getContext("2d")?.putImageData(image, 0, 0);
  }, [small]);
  const places = PLACES.flatMap((what) => {
    const at = answer[`${what}_at`] as unknown as { from_left: Length; from_top: Length } | undefined;
    return at === undefined || answer[what] === undefined ? [] : [{ what, at }];
  });
  const halftone = answer.halftone as unknown as { ruling: Length; angle: Length } | null | undefined;
  const pixels = usePixels(resolution, [...places.flatMap(({ at }) => [at.from_left.unit, at.from_top.unit]), ...(halftone ? [halftone.ruling.unit.replace(/^\//, "")] : [])]);
  const size = Math.max(wide, high) / 24;
  const key: ComponentChildren[] = places.map(({ what }, index) => <li key={what}><b>{index + 1}</b> {labelOf(schema, what)} <Figure value={answer[what]!} name={what} /></li>);
  if (halftone) {
    key.push(<li key="halftone"><b aria-hidden="true">≡</b> {labelOf(schema, "halftone")} <Figure value={halftone.ruling as never} name="ruling" /> at <Figure value={halftone.angle as never} name="angle" />, a line every ten rows</li>);
  }
  return (
    <figure class="found-in">
      <div class="picture">
        <canvas ref={canvas} width={small.wide} height={small.high} role="img" aria-label={`The separation of ${name}`} />
        {pixels !== undefined && (
          <svg viewBox={`0 0 ${wide} ${high}`} aria-hidden="true">
            {halftone && <Rows {...halftone} wide={wide} high={high} pixels={pixels} />}
            {places.map(({ what, at }, index) => {
              const [x, y] = [pixels(at.from_left), pixels(at.from_top)];
              const right = x < wide - 3 * size;
              return (
                <g key={what}>
                  <circle class="under" cx={x} cy={y} r={size / 2} stroke-width={size / 5} />
                  <circle cx={x} cy={y} r={size / 2} stroke-width={size / 10} />
                  <text x={x + (right ? size : -size)} y={y + size / 3} font-size={size} stroke-width={size / 5} text-anchor={right ? "start" : "end"}>{index + 1}</text>
                </g>
              );
            })}
          </svg>
        )}
      </div>
      <figcaption><ol class="found-key">{key}</ol></figcaption>
    </figure>
  );
}
