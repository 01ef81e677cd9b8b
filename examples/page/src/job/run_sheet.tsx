// The run sheet: what hangs at the press, in the order in which it is needed, with blanks to fill in by hand.
import { labelOf, schemaAt } from "../ask/answer/value";
import { rowOf } from "../model/catalogue";
import { isRecord, type Members } from "../model/node";
import { Facts, Grid, Heeded, labelAt, rowsOf, say, span, type Column } from "./papers";
import { PLAN } from "./stops";

const label = (name: string): string => labelOf(PLAN.answer, name);
const of = (name: string) => schemaAt(PLAN.answer, name);
const inner = (name: string, path: string): string => labelAt(schemaAt(of(name), 0) ?? {}, path);
const part = (record: Members, name: string): Members => (isRecord(record[name]) ? record[name] : {});

/** The trade's own name of a mesh: threads to the centimetre or inch, and their diameter in micrometres. */
function meshName(screen: Members): string {
  const [count, thread] = [say(screen, "mesh.count"), say(screen, "mesh.thread")];
  return count.endsWith("/cm") ? `${parseFloat(count)}-${parseFloat(thread)}` : `${parseFloat(count)}/${parseFloat(thread)} tpi`;
}
/** What the screen holds: tones of a halftone, or its finest line and gap. */
const holds = (screen: Members): string => (isRecord(screen.halftone)
  ? `${say(screen, "halftone.ruling")} at ${say(screen, "halftone.angle")}: ${span(screen, "halftone.tone_min_fraction", "halftone.tone_max_fraction")}`
  : span(screen, "detail.finest_line", "detail.finest_gap", " / "));
/** What 10, 50 and 90 % of the film print as. */
const tones = (screen: Members): string => rowsOf(part(screen, "halftone").tones).filter((tone) => tone.held).map((tone) => `${say(tone, "film_fraction")} as ${say(tone, "printed_fraction")}`).join(", ");
const blanks = (names: string[]) => <span class="blanks">{names.map((name) => <span key={name}>{name} <span class="blank" /></span>)}</span>;
const pots = (screen: Members): string => [say(screen, "mix_again_after"), rowsOf(screen.pots).length > 1 ? `${rowsOf(screen.pots).length} ${inner("screens", "pots").toLowerCase()}` : ""].filter(Boolean).join(", ");
const additives = (screen: Members): string => rowsOf(screen.additives).map((one) => `${say(one, "mass_per_pot")} ${say(one, "name")}`).join(", ");

export function RunSheet({ plan }: { plan: Members }) {
  const screens = rowsOf(plan.screens).map((screen, index) => ({ ...screen, name: `${index + 1} ${String(screen.name)}` }) as Members);
  const [dryer, press, blank, wash] = [part(plan, "dryer"), part(plan, "press"), part(plan, "blanks"), part(plan, "wash_test")];
  const [hours, register] = [part(plan, "hours"), part(plan, "register")];
  const runs = rowsOf(press.runs);
  const name: Column = "name";
  const range = (head: string, low: string, high: string): Column => [head, (row) => span(row, low, high)];
  const heads = rowsOf(plan.placements).map(({ name: placement }) => [String(placement), rowsOf(plan.heads).filter((head) => head.placement === placement)
    .map((head) => `${String(head.station)} ${head.role === "print" ? String(head.screen) : String(head.role)}`).join(", ")] as const);
  const setting = rowsOf(plan.placements).flatMap(({ name: placement }) => {
    const own = rowsOf(plan.screens).filter((screen) => screen.placement === placement).sort((one, other) => Number(one.set) - Number(other.set));
    return own.length > 1 ? [`${String(placement)}: ${own.map((screen) => String(screen.name)).join(", then ")}`] : [];
  });
  // Said where screens are mixed together.
  const inks = rowsOf(plan.ink_totals);
  // Which heads are down and up where a shirt goes round more than once.
  const rounds = runs.filter((run) => Number(run.rounds) > 1).flatMap((run) => rowsOf(run.by_round)
    .map((round) => `${String(run.placement)}, round ${String(round.round)}: down ${say(round, "down")}; up ${say(round, "up") || "none"}`));
  const zones = rowsOf(dryer.zones).map((zone, index) => `Zone ${index + 1}: ${["length", "air", "panel"].map((member) => say(zone, member)).filter(Boolean).join(", ")}`);
  const memory = rowsOf(plan.basis).filter(({ kind }) => kind === "memory").length;
  const sizes = rowsOf(blank.sizes).map((size) => `${say(size, "size")} ${say(size, "start_with")}`).join(", ");
  const cloth = rowOf("cloth", String(plan.cloth))?.label ?? String(plan.cloth);
  return (
    <>
      <h1 tabIndex={-1}>Run sheet: {say(plan, "title") || "order without a name"}</h1>
      <Facts of={{ ...plan, cloth, blanks: { ...blank, sizes } }} schema={PLAN.answer} names={["due", "pieces", "cloth", "blanks.start_with", "blanks.sizes", "blanks.for_wash_test"]} />
      {rowsOf(plan.placements).map((one) => <Facts key={String(one.name)} of={one} schema={schemaAt(of("placements"), 0)!} names={["name", "width", "height", "below_collar"]} />)}
      <Heeded answer={plan} />
      <Grid settings caption={label("screens")} rows={screens} schema={of("screens")} columns={[
        name, [inner("screens", "mesh"), meshName], "target_tension", [inner("screens", "frame_least"), (row) => span(row, "frame_least.width", "frame_least.length", " x ")],
        "stencil.coats", range("Gauge", "stencil.gauge_low", "stencil.gauge_high"), ["Stencil", (row) => say(row, "stencil.verdict")], "stencil.exposure_time", ["Line / gap held", holds],
        [inner("screens", "halftone.tones"), tones],
      ]} />
      {register.method !== undefined && (
        <section>
          <h2>{label("register")}</h2>
          {setting.map((line) => <p key={line} class="line">Set {line}</p>)}
          <Facts of={register} schema={of("register")!} names={["method", "trap", "trap_needed", "setup_within_probability", "adjusted_within_probability"]} />
        </section>
      )}
      <section>
        <h2>{label("heads")}</h2>
        {heads.map(([placement, line]) => <p key={placement} class="line"><b>{placement}</b>: {line}</p>)}
        {rounds.map((line) => <p key={line} class="line">{line}</p>)}
      </section>
      <Grid settings caption={label("press")} rows={screens} schema={of("screens")} columns={[
        name, "blade.length", "blade.hardness", "blade.angle", "blade.pressure", "off_contact", "stroke_speed", "strokes.flood", "strokes.print", "hits",
      ]} />
      <Grid caption="Inks" rows={screens} schema={of("screens")} columns={[
        name, "ink", "mass_to_mix", [inner("screens", "additives"), additives], [inner("screens", "mix_again_after"), pots], "mass_per_print", "wet_film", "dry_film",
        "hiding.lightness", "open_time",
      ]} />
      {rowsOf(plan.flash).length > 0 && (
        <Grid caption={label("flash")} rows={rowsOf(plan.flash)} schema={of("flash")} columns={[
          "screen", "flash", "panel", range("Height", "height_low", "height_high"), "dwell_cold", "dwell_warm", "platen_warm", "gel", "gun_most", "overheats_at",
        ]} />
      )}
      <div class="pair">
        <div>
          <section>
            <h2>{label("dryer")}</h2>
            <Facts of={dryer} schema={of("dryer")!} names={["recommended", "dwell", "slowest", "fastest", "hardest_ink"]} />
            <p class="line">{zones.join("; ")}</p>
          </section>
          <section>
            <h2>{label("wash_test")}</h2>
            <Facts of={wash} schema={of("wash_test")!} names={["prints", "washes", "take", "proves"]} />
            {rowsOf(wash.stacks).map((stack) => <p key={String(stack.placement)} class="line"><b>{String(stack.placement)}</b>: {say(stack, "inks").replaceAll(", ", ", then ")}</p>)}
          </section>
        </div>
        <Grid caption={labelOf(of("dryer"), "probe_readings")} rows={rowsOf(dryer.probe_readings)} schema={schemaAt(of("dryer"), "probe_readings")} columns={[
          "at", "time", "expect", "least", "most", ["Read", () => <span class="blank" />],
        ]} />
      </div>
      <Grid caption={label("sign_off")} rows={rowsOf(plan.sign_off)} schema={of("sign_off")} columns={[
        "what", "check", [inner("sign_off", "fill_in"), (row) => blanks(Array.isArray(row.fill_in) ? row.fill_in.map(String) : [])],
      ]} />
      <section>
        <h2>{label("hours")}</h2>
        <Facts of={hours} schema={of("hours")!} names={["setup", "run", "clearing", "total"]} />
        {runs.map((run) => (
          <p key={String(run.placement)} class="line">
            <b>{String(run.placement)}</b>: {say(run, "time_per_piece")}, {say(run, "pieces_per_hour")} an hour; {labelOf(of("press"), "bottleneck")}: {say(run, "bottleneck")},
            then {say(run, "next_bottleneck")}
          </p>
        ))}
        {inks.length < screens.length && <p class="line"><b>{label("ink_totals")}</b>: {inks.map((total) => `${say(total, "colour")} ${say(total, "mass_to_mix")} ${say(total, "ink")}`).join("; ")}</p>}
      </section>
      {memory > 0 && <p class="line">{memory} numbers behind it are from memory, not measured in this shop. The maker's sheet, local code and licensed people come first.</p>}
    </>
  );
}
