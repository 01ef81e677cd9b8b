// The page: its head and foot, and between them the door that is open.
import { render } from "preact";
import { Ask } from "./ask/ask";
import { Home } from "./home/home";
import { version, type System } from "./model/catalogue";
import { JobDoor } from "./job/job_door";
import { keepOffline, newer, offline, takeOver } from "./shell/offline";
import { linkToJob, linkToShop, place } from "./shell/place";
import { unkept } from "./shell/store";
import { recall, system, useSystem } from "./shell/settings";
import { recallOwn } from "./shop/own";
import { Shop } from "./shop/shop";
import { failure, warmed } from "./work/engine";
import "./style/tokens.css";
import "./style/page.css";
import "./style/form.css";
import "./style/answer.css";
import "./style/art.css";
import "./style/job.css";
import "./style/shop.css";
import "./style/print.css";
import "./style/paper.css";

const OFFLINE = {
  ready: "Works without a network from now on.",
  insecure: "Offline is off: this page came over plain http. Over https it would work without a network.",
  failed: "Offline is off: this browser keeps nothing of the page.",
};

function Units() {
  const option = (value: System, label: string) => (
    <label class="option"><input type="radio" name="units" checked={system.value === value} onChange={() => useSystem(value)} /><span>{label}</span></label>
  );
  return <fieldset class="units"><legend class="unseen">Units of the answers</legend>{option("metric", "Metric")}{option("us", "US")}</fieldset>;
}

/** The doors of the page, by what they are called. */
const DOORS = [["Ask", "ask", "#/"], ["Job", "job", linkToJob()], ["Shop", "shop", linkToShop]] as const;

function Page() {
  const { door, paper, id, request, broken } = place.value;
  return (
    <>
      <a class="skip" href="#main" onClick={(event) => {
        event.preventDefault();
        document.querySelector<HTMLElement>("main :is(input, select, a, button)")?.focus();
      }}>To the question</a>
      <header class="head">
        <a class="name" href="#/">Floodbar</a>
        <nav aria-label="Doors"><ul>{DOORS.map(([name, to, link]) => <li key={to}><a href={link} aria-current={door === to ? "page" : undefined}>{name}</a></li>)}</ul></nav>
        <Units />
      </header>
      {failure.value !== undefined && <p class="refused whole" role="alert">Nothing can be worked out here: {failure.value}. <button type="button" class="plain" onClick={() => location.reload()}>Load the page again</button></p>}
      {newer.value !== undefined && <p class="newer" role="status">A newer version of this page is ready. <button type="button" class="plain" onClick={takeOver}>Use it now</button></p>}
      {unkept.value && <p class="unkept" role="status">This browser keeps nothing of what is entered here: its storage is full or switched off.</p>}
      {door === "job" ? <JobDoor paper={paper} /> : door === "shop" ? <Shop /> : id === undefined ? <Home /> : <Ask id={id} request={request} broken={broken} />}
      <footer class="foot">
        <p>All of it is worked out on this device; nothing is sent anywhere. {offline.value && OFFLINE[offline.value]}</p>
        <p>Heat, UV, fumes and pinch points: the maker's sheet, local code and licensed people come first. Floodbar {version}, <a href="./licences.txt">its licences</a>.</p>
      </footer>
    </>
  );
}

// What is kept is there at once, or else comes when it comes.
await Promise.race([Promise.all([recall(), recallOwn()]), new Promise((done) => setTimeout(done, 60))]);
render(<Page />, document.getElementById("page")!);
performance.mark("floodbar-drawn");
// What is kept for later does not go before what is asked now.
void warmed.then(keepOffline);
