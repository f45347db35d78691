// What a page does beyond its HTML. Without script every page can be read, and every form be sent.

import * as acts from "./acts.js";
import * as kept from "./kept.js";
import * as live from "./live.js";
import * as reports from "./reports.js";

const others = [kept.start(), live.start(), reports.start()];
acts.start(); // after the reports, whose forms it leaves to them
await Promise.all(others);
