import * as floodbar from "./node_modules/floodbar/web.js";
import * as worker from "./node_modules/floodbar/worker.js";
import { run } from "./page.js";

run(floodbar, worker);
