// The quote, for the shop with all its costs; and the offer, the customer's copy, which shows only what is charged.
import { labelOf, schemaAt } from "../ask/answer/value";
import { isRecord, type Members } from "../model/node";
import { useJob } from "./job";
import { Facts, Grid, Heeded, rowsOf, say } from "./papers";
import { PLAN, QUOTE } from "./stops";

const label = (name: string): string => labelOf(QUOTE.answer, name);
const of = (name: string) => schemaAt(QUOTE.answer, name);
const Total = ({ quote, name, columns }: { quote: Members; name: string; columns: number }) =>
  <tr><th scope="row" colSpan={columns}>{label(name)}</th><td class="digits">{say(quote, name)}</td></tr>;

function Head({ quote, what }: { quote: Members; what: string }) {
  return (
    <>
      <h1 tabIndex={-1}>{what}: {say(quote, "title") || "order without a name"}</h1>
      <Facts of={quote} schema={QUOTE.answer} names={["pieces", "due", "valid_days"]} />
    </>
  );
}

/** What is charged, line by line; the tax as a part of it where the prices hold it. */
function Prices({ quote }: { quote: Members }) {
  const { price } = useJob().request.value;
  const foot = <><Total quote={quote} name="total" columns={1} />{isRecord(price) && price.prices_include_tax === true && <Total quote={quote} name="tax" columns={1} />}</>;
  return <Grid caption={label("price_lines")} rows={rowsOf(quote.price_lines)} schema={of("price_lines")} columns={["what", "amount"]} foot={foot} />;
}

/** Prices by size; nothing where the order names no sizes. */
const Sizes = ({ quote }: { quote: Members }) => (rowsOf(quote.unit_prices).length === 0 ? null
  : <Grid caption={label("unit_prices")} rows={rowsOf(quote.unit_prices)} schema={of("unit_prices")} columns={["size", "pieces", "unit_price"]} />);

const Breaks = ({ quote, columns }: { quote: Members; columns: string[] }) => (rowsOf(quote.price_breaks).length === 0 ? null
  : <Grid caption={label("price_breaks")} rows={rowsOf(quote.price_breaks)} schema={of("price_breaks")} columns={columns} />);

/** A record of the answer, with all that it says. */
function All({ quote, name }: { quote: Members; name: string }) {
  const record = quote[name];
  return isRecord(record) ? <section><h2>{label(name)}</h2><Facts of={record} schema={of(name)!} names={Object.keys(record)} /></section> : null;
}

export function QuoteSheet({ quote }: { quote: Members }) {
  const foot = <tr><th scope="row" colSpan={3}>{label("cost")}</th><td class="digits">{say(quote, "cost")}</td><td /></tr>;
  return (
    <>
      <Head quote={quote} what="Quote" />
      <Heeded answer={quote} />
      <Grid caption={label("cost_lines")} rows={rowsOf(quote.cost_lines)} schema={of("cost_lines")} columns={["what", "quantity", "rate", "amount", "why"]} foot={foot} />
      <div class="pair"><Prices quote={quote} /><Sizes quote={quote} /></div>
      <Facts of={quote} schema={QUOTE.answer} names={[
        "price_before_tax", "unit_price", "once", "deposit", "profit", "margin_fraction", "profit_per_press_hour", "hours.setup", "hours.run", "hours.total",
        "pieces_per_hour", "held_up_by",
      ]} />
      <All quote={quote} name="supplied" />
      <All quote={quote} name="at_unit_price" />
      <Breaks quote={quote} columns={["pieces", "unit_price", "total", "cost", "profit", "hours", "held_up_by"]} />
      <p class="line">{say(quote, "terms")}</p>
    </>
  );
}

export function Offer({ quote, plan }: { quote: Members; plan?: Members }) {
  const colours = (placement: Members) => String(rowsOf(plan?.screens).filter((screen) => screen.placement === placement.name).length);
  return (
    <>
      <Head quote={quote} what="Offer" />
      <Grid caption={labelOf(PLAN.answer, "placements")} rows={rowsOf(plan?.placements)} schema={schemaAt(PLAN.answer, "placements")} columns={["name", "width", "height", "below_collar", ["Printed in colours", colours]]} />
      <div class="pair"><Prices quote={quote} /><Sizes quote={quote} /></div>
      <Facts of={quote} schema={QUOTE.answer} names={["unit_price", ...(Number((quote.once as { value: string } | undefined)?.value) > 0 ? ["once"] : []), "deposit"]} />
      <Breaks quote={quote} columns={["pieces", "unit_price", "total"]} />
      <p class="line">{say(quote, "terms")}</p>
    </>
  );
}
