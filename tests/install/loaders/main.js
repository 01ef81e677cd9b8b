import * as floodbar from "floodbar";
import * as worker from "floodbar/worker";
import { run } from "./page.js";

run(floodbar, worker);
