// Pages that follow what happens, by server-sent events. [data-follow] names a stream: at each event the page is read again and
// its main part replaced. [data-progress] names that of a search, whose figures are brought up to date. A page that has heard
// nothing for two minutes says how old it is.

import { element, hour } from "./words.js";

const silence = 120000, look = 20000;
let lastWord = Date.now(), isReading = false, isDue = false;

export function start() {
  const followed = [...document.querySelectorAll("[data-follow]")], searches = [...document.querySelectorAll("[data-progress]")];
  for (const { dataset } of followed) {
    const stream = open(dataset.follow);
    for (const name of (dataset.events ?? "message").split(" ")) stream.addEventListener(name, () => {
      hear();
      isDue = true;
      setTimeout(readAgain, 500);
    });
  }
  for (const place of searches) progress(open(place.dataset.progress));
  const isPhone = document.body.matches(".phone") && !document.documentElement.dataset.kept;
  if (followed.length || searches.length || isPhone) setInterval(listen, look);
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
  try {
    if ((await fetch("/health/live", { cache: "no-store", signal: AbortSignal.timeout(look / 2) })).ok) hear();
  } catch {
    // Nothing heard.
  }
  if (Date.now() - lastWord >= silence) sayOld();
}

function hear() {
  lastWord = Date.now();
  document.querySelector("#old")?.remove();
}

async function readAgain() {
  if (!isDue || isReading) return;
  isReading = true;
  isDue = false;
  try {
    const answer = await fetch(location.href, { headers: { accept: "text/html" }, cache: "no-store" });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (isBeingFilled()) sayNewer();
    else replace(page);
  } catch {
    isDue = true; // with the next event, or by hand
  } finally {
    isReading = false;
  }
}

// Somebody who writes or chooses keeps what they see.
const isBeingFilled = () => [...document.querySelectorAll("main form")].some(form => form.contains(document.activeElement)
  || [...form.elements].some(field => field.defaultValue !== undefined && field.type !== "hidden"
    && (field.value !== field.defaultValue || field.checked !== field.defaultChecked)));

function replace(page) {
  const focused = document.activeElement?.id, open = [...document.querySelectorAll("main details[open]")].map(part => part.id);
  document.title = page.title;
  const main = document.querySelector("main"), kept = [...main.querySelectorAll(":scope > [data-script]")];
  main.replaceChildren(...kept, ...page.querySelector("main").childNodes);
  for (const id of open) if (id) document.getElementById(id)?.setAttribute("open", "");
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
}

const sayNewer = () => say("newer", "Something new has come. ", "Look now");

const sayOld = () => say("old", `This is how it stood at ${hour(lastWord)}. Nothing newer has come since; looking again every `
  + "few seconds. ", "Look now");

function say(id, sentence, label) {
  if (document.getElementById(id)) return;
  document.querySelector("main").append(element("p", { id, class: "told late measure", role: "status", "data-script": "" },
    sentence, element("a", { href: location.href }, label)));
}
