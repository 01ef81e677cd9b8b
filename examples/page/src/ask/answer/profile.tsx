// Lists that run along together, such as temperatures over time: drawn, with the table beside.
import type { Schema } from "../../model/catalogue";
import { figures, unitSign } from "../../model/numbers";
import { Chart, Key } from "./chart";
import { labelOf } from "./value";

type List = [name: string, values: { value: number; unit: string }[]];

export function Profile({ lists, schema, caption }: { lists: List[]; schema?: Schema; caption: string }) {
  const [[name, along], ...others] = lists as [List, ...List[]];
  const unit = others[0]?.[1][0]?.unit ?? "";
  const drawn = others.filter(([, values]) => values[0]?.unit === unit);
  const numbers = (values: List[1]) => values.map(({ value }) => value);
  return (
    <>
      <Chart
        label={`${caption}: ${drawn.map(([other]) => labelOf(schema, other)).join(", ")} over ${labelOf(schema, name)}; its numbers are in the table below`}
        xs={numbers(along)} xLabel={`${labelOf(schema, name)}, ${unitSign(along[0]?.unit ?? "")}`} yLabel={unitSign(unit)}
        lines={drawn.map(([other, values], index) => ({ label: labelOf(schema, other), values: numbers(values), main: index === 0 }))}
      />
      <Key labels={drawn.map(([other]) => labelOf(schema, other))} />
      <details>
        <summary>The same in numbers</summary>
        <div class="scroll" tabIndex={0} role="region" aria-label={caption}>
          <table>
            <thead><tr>{lists.map(([column, values]) => <th key={column} scope="col">{labelOf(schema, column)}, {unitSign(values[0]?.unit ?? "")}</th>)}</tr></thead>
            <tbody>{along.map((_, row) => <tr key={row}>{lists.map(([column, values]) => <td key={column} class="digits">{figures(values[row]!.value)}</td>)}</tr>)}</tbody>
          </table>
        </div>
      </details>
    </>
  );
}
