// What a page does beyond its HTML. Without script every page can be read, and every form be sent.

import * as kept from "./kept.js";
import * as live from "./live.js";
import * as reports from "./reports.js";

await Promise.all([kept.start(), live.start(), reports.start()]);
