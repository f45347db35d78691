// Pages that follow what happens. [data-follow] names a stream of server-sent events: at each event the page is read again and
// its main part replaced. [data-progress] names that of a search, whose figures are brought up to date. Another page of a week
// asks every few seconds whether the week is still the same, and says so if it is not. Its version is that of its forms; a page
// without such a form asks for it as soon as it is loaded. A page that has heard nothing for two minutes says how old it is.

import { expectPage, focus } from "./acts.js";
import { checkInterval, eventDelay, readingPause, silenceLimit } from "./times.js";
import { element, hour } from "./words.js";

const { session, kept } = document.documentElement.dataset, isPhone = document.body.matches(".phone"), streams = [];
let lastHeard = Date.now(), lastRead = 0, isReading = false, timer = 0;
let missed = 0; // when it was last read or heard before a reading failed; 0 once one succeeds
let version = document.querySelector('main [name=":if-match"]')?.value;

export function start() {
  for (const { dataset } of document.querySelectorAll("[data-follow]")) follow(dataset.follow, stream => {
    for (const name of (dataset.events ?? "message").split(" ")) stream.addEventListener(name, () => {
      hear();
      schedule(eventDelay);
    });
  });
  for (const { dataset } of document.querySelectorAll("[data-progress]")) follow(dataset.progress, progress);
  if (streams.length) {
    document.body.append(element("p", { id: "spoken", class: "away", role: "status" }));
    waitIfBehind();
  }
  if (kept || !(session || isPhone || streams.length)) return;
  document.addEventListener("visibilitychange", onVisibility);
  setInterval(listen, checkInterval);
  if (!weekOf()) return;
  if (version) setTimeout(listen, eventDelay);
  else ask().catch(() => { });
}

// The address of the week that a page at a desk shows. The page of a refusal has no links to other pages of it.
const weekOf = () => !streams.length && !isPhone && document.querySelector(".head nav")
  && /^\/weeks\/[^/]+/.exec(location.pathname)?.[0];

// Opens a stream, or opens it again. One that the service has refused or ended stays closed until the next look.
function follow(address, attach) {
  let one = streams.find(other => other.address === address);
  if (!one) streams.push(one = { address, attach });
  if (document.visibilityState === "hidden") return;
  one.stream = new EventSource(address);
  one.stream.addEventListener("open", hear);
  attach(one.stream);
}

// A browser has six connections to a host for all its pages together, and an open stream holds one: with seven such pages no
// other would load. So a page that nobody sees closes its streams, and catches up when it is seen again.
function onVisibility() {
  if (document.visibilityState === "hidden") for (const { stream } of streams) stream?.close();
  else {
    for (const { address, attach } of streams) follow(address, attach);
    if (streams.length) schedule(0);
    else listen();
  }
}

function progress(stream) {
  stream.addEventListener("progress", event => {
    hear();
    const { sentence, goals } = JSON.parse(event.data), place = document.querySelector("[data-progress-goals]");
    document.querySelector("[data-progress-sentence]").textContent = sentence;
    if (!goals.length) return;
    place.closest("section").querySelector("p")?.remove();
    place.replaceChildren(...goals.map(({ name, best, bound }) => element("tr", {}, element("th", { scope: "row" }, name),
      element("td", { "data-l": "So far:" }, best), element("td", { "data-l": "At best:" }, bound ?? ""))));
  });
  stream.addEventListener("settled", () => {
    stream.close();
    expectPage();
    location.reload();
  });
}

// A stream that is open says nothing while nothing happens, so the service is asked whether it is there. Where no stream tells of
// a week, it is asked for the week's version. A page that nobody sees asks nothing.
async function listen() {
  if (document.visibilityState === "hidden") return;
  const closed = streams.filter(({ stream }) => !stream || stream.readyState === EventSource.CLOSED);
  for (const { address, attach } of closed) follow(address, attach);
  try {
    if (await ask() && !closed.length) hear();
  } catch {
    // Nothing heard.
  }
  if (Date.now() - upTo() >= silenceLimit) sayOld();
}

// The latest time at which the page was known to be as the service has it.
const upTo = () => missed || lastHeard;

async function ask() {
  const week = weekOf();
  const answer = await fetch(week || "/health/live", {
    method: "HEAD", headers: { accept: "application/json" }, cache: "no-store", signal: AbortSignal.timeout(checkInterval / 2),
  });
  if (answer.ok && week) compare(answer.headers.get("etag"));
  return answer.ok;
}

function compare(now) {
  version ??= now;
  if (version !== now) sayNewer();
}

function hear() {
  lastHeard = Date.now();
  if (missed) return;
  const old = document.querySelector("#old");
  old?.remove();
  if (old && streams.length) schedule(0);
}

// Many events in a row lead to one reading, and a reading is followed by a pause.
function schedule(wait) {
  timer ||= setTimeout(readAgain, Math.max(wait, lastRead + readingPause - Date.now()));
}

// The page says that it does not count the latest events yet.
function waitIfBehind() {
  if (document.querySelector("main [data-behind]")) schedule(readingPause);
}

async function readAgain() {
  timer = 0;
  if (document.visibilityState === "hidden") return; // it is read when it is seen again
  if (isReading) return schedule(eventDelay);
  isReading = true;
  lastRead = Date.now();
  try {
    const request = { headers: { accept: "text/html" }, cache: "no-store", signal: AbortSignal.timeout(checkInterval) };
    const answer = await fetch(location.href, request);
    if (!answer.ok) throw new Error(`${answer.status}`);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    [missed, lastHeard] = [0, Date.now()];
    document.querySelector("#old")?.remove();
    if (isBeingFilled()) sayNewer();
    else replace(page);
  } catch {
    missed ||= lastHeard;
    schedule(checkInterval);
  } finally {
    isReading = false;
  }
}

// Somebody who writes or chooses keeps what they see.
const isBeingFilled = () => [...document.querySelectorAll("main form")].some(form => form.contains(document.activeElement)
  || [...form.elements].some(field => field.defaultValue !== undefined && field.type !== "hidden"
    && (field.value !== field.defaultValue || field.checked !== field.defaultChecked)));

// What the reader looks at stays where it is, what has the focus keeps it, and a screen reader hears the first sentences if they
// are others.
function replace(page) {
  const focused = document.activeElement, open = [...document.querySelectorAll("main details[open]")].map(part => part.id);
  const main = document.querySelector("main"), kept = [...main.querySelectorAll(":scope > [data-script]")];
  const lead = () => main.querySelector(".lead")?.textContent ?? "", before = lead();
  const seen = scrollY > 0 && [...main.querySelectorAll("[id]")].find(part => part.getBoundingClientRect().top >= 0);
  const top = seen && seen.getBoundingClientRect().top;
  document.title = page.title;
  const mark = main.contains(focused) && markOf(focused);
  main.replaceChildren(...page.querySelector("main").childNodes, ...kept);
  for (const id of open) if (id) document.getElementById(id)?.setAttribute("open", "");
  if (mark) focusAgain(focused, mark, main);
  const again = seen && document.getElementById(seen.id);
  if (again) scrollBy({ top: again.getBoundingClientRect().top - top, behavior: "instant" });
  if (lead() !== before) document.querySelector("#spoken").textContent = lead();
  waitIfBehind();
}

// What tells a control from the others: the part that it belongs to, where it leads and what it says.
const markOf = control =>
  [control.localName, control.closest("[id]").id, control.getAttribute("href"), control.textContent].join("\n");

function focusAgain(focused, mark, main) {
  const same = focused.isConnected ? focused
    : [...main.querySelectorAll("a, button, summary")].find(control => markOf(control) === mark);
  if (same) same.focus({ preventScroll: true });
  else focus(main.querySelector("h1"), { preventScroll: true });
}

const sayNewer = () => say("newer", "Something new has come. ", "Look now");

const sayOld = () => say("old", `This is how it stood at ${hour(upTo())}. Nothing newer has come since; looking again every `
  + "few seconds. ", "Look now");

function say(id, sentence, label) {
  if (document.getElementById(id)) return;
  document.querySelector("main").append(element("p", { id, class: "told late measure", role: "status", "data-script": "" },
    sentence, element("a", { href: ownAddress() }, label)));
}

// Without a fragment, with which a browser would not load the page anew. A refused form stands at the address that it was sent
// to.
const ownAddress = () => document.querySelector('main [name=":from"]')?.value ?? location.href.split("#")[0];
