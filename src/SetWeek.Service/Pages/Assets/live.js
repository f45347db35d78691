// Pages that follow what happens, by server-sent events. [data-follow] names a stream: at each event the page is read again and
// its main part replaced. [data-progress] names that of a search, whose figures are brought up to date. A page that has heard
// nothing for two minutes says how old it is.

import { element, hour } from "./words.js";

const silence = 120000, look = 20000, soon = 500, pause = 5000;
let lastWord = Date.now(), lastRead = 0, isReading = false, timer = 0;
const streams = [];

export function start() {
  const followed = [...document.querySelectorAll("[data-follow]")], searches = [...document.querySelectorAll("[data-progress]")];
  for (const { dataset } of followed) follow(dataset.follow, (dataset.events ?? "message").split(" "));
  for (const place of searches) progress(open(place.dataset.progress));
  if (followed.length) {
    document.body.append(element("p", { id: "spoken", class: "away", role: "status" }));
    waitIfBehind();
  }
  const isPhone = document.body.matches(".phone") && !document.documentElement.dataset.kept;
  if (followed.length || searches.length || isPhone) setInterval(listen, look);
}

// A stream that the service has refused or ended stays closed, and is opened again at the next look.
function follow(address, names) {
  const stream = open(address), place = streams.find(one => one.address === address);
  if (place) place.stream = stream;
  else streams.push({ address, names, stream });
  for (const name of names) stream.addEventListener(name, () => {
    hear();
    schedule(soon);
  });
}

function open(address) {
  const stream = new EventSource(address);
  stream.addEventListener("open", hear);
  return stream;
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
    location.reload();
  });
}

// A stream that is open says nothing while nothing happens, so the service is asked whether it is there.
async function listen() {
  const closed = streams.filter(({ stream }) => stream.readyState === EventSource.CLOSED);
  for (const { address, names } of closed) follow(address, names);
  try {
    const answer = await fetch("/health/live", { cache: "no-store", signal: AbortSignal.timeout(look / 2) });
    if (answer.ok && !closed.length) hear();
  } catch {
    // Nothing heard.
  }
  if (Date.now() - lastWord >= silence) sayOld();
}

function hear() {
  lastWord = Date.now();
  const old = document.querySelector("#old");
  old?.remove();
  if (old && streams.length) schedule(0);
}

// Many events in a row lead to one reading, and a reading is followed by a pause.
function schedule(wait) {
  timer ||= setTimeout(readAgain, Math.max(wait, lastRead + pause - Date.now()));
}

// The page says that it does not count the latest events yet.
function waitIfBehind() {
  if (document.querySelector("main [data-behind]")) schedule(pause);
}

async function readAgain() {
  timer = 0;
  if (isReading) return schedule(soon);
  isReading = true;
  lastRead = Date.now();
  try {
    const answer = await fetch(location.href, { headers: { accept: "text/html" }, cache: "no-store" });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (isBeingFilled()) sayNewer();
    else replace(page);
  } catch {
    schedule(look);
  } finally {
    isReading = false;
  }
}

// Somebody who writes or chooses keeps what they see.
const isBeingFilled = () => [...document.querySelectorAll("main form")].some(form => form.contains(document.activeElement)
  || [...form.elements].some(field => field.defaultValue !== undefined && field.type !== "hidden"
    && (field.value !== field.defaultValue || field.checked !== field.defaultChecked)));

// What the reader looks at stays where it is, and a screen reader hears the first sentences if they are others.
function replace(page) {
  const focused = document.activeElement?.id, open = [...document.querySelectorAll("main details[open]")].map(part => part.id);
  const main = document.querySelector("main"), kept = [...main.querySelectorAll(":scope > [data-script]")];
  const lead = () => main.querySelector(".lead")?.textContent ?? "", before = lead();
  const seen = scrollY > 0 && [...main.querySelectorAll("[id]")].find(part => part.getBoundingClientRect().top >= 0);
  const top = seen && seen.getBoundingClientRect().top;
  document.title = page.title;
  main.replaceChildren(...page.querySelector("main").childNodes, ...kept);
  for (const id of open) if (id) document.getElementById(id)?.setAttribute("open", "");
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  const again = seen && document.getElementById(seen.id);
  if (again) scrollBy({ top: again.getBoundingClientRect().top - top, behavior: "instant" });
  if (lead() !== before) document.querySelector("#spoken").textContent = lead();
  waitIfBehind();
}

const sayNewer = () => say("newer", "Something new has come. ", "Look now");

const sayOld = () => say("old", `This is how it stood at ${hour(lastWord)}. Nothing newer has come since; looking again every `
  + "few seconds. ", "Look now");

function say(id, sentence, label) {
  if (document.getElementById(id)) return;
  document.querySelector("main").append(element("p", { id, class: "told late measure", role: "status", "data-script": "" },
    sentence, element("a", { href: location.href }, label)));
}
