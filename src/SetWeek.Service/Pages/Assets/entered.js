// Shows the pieces of a kept page as they stand after the reports that its reader has entered on this device since. An element
// [data-work] is a piece of a night; the attribute holds what names the piece in the fields of its forms. [data-begun] is what
// an element says once the piece is begun. The pieces that a person's night does not show yet are templates [data-now].

import { element, hour } from "./words.js";

const entered = new Map(); // by number, also those sent since this page was loaded
let undos = []; // take back what was changed on the page
let lastShown = "";

// For each kind of report: its word on the page, and the state of the piece after it. Without a state, the piece stays as it is.
const kinds = {
  started: { says: "Begun", state: "running" }, resumed: { says: "Gone on", state: "running" },
  finished: { says: "Done", state: "done" }, blocked: { says: "Blocked", state: "interrupted" },
  paused: { says: "Interrupted", state: "interrupted" },
  reopened: { says: "Opened again", state: "planned" }, progress: { says: "More time asked for" },
  stopped: { says: "Stopped", more: ": nothing starts here before a lead has looked." },
};

// The links to acts in whose place others stand once something is entered.
const overtaken = ["act=start", "act=finish", "act=progress", "act=paused", "act=resumed", "act=reopened", "/longer"]
  .map(part => `[href*='${part}']`).join();

// Takes the reports of the reader that are on this device.
export function showEntered(own) {
  for (const [number, report] of entered)
    if (!own.some(one => one.number === number)) {
      if (report.refusal) entered.delete(number);
      else entered.set(number, { ...report, isSent: true });
    }
  for (const report of own) entered.set(report.number, report);
  const reports = [...entered.values()].filter(report => !report.refusal).sort((one, other) => one.number - other.number);
  const now = JSON.stringify(reports.map(({ number, isSent }) => [number, isSent]));
  if (now === lastShown) return;
  lastShown = now;
  for (const undo of undos.reverse()) undo();
  undos = [];
  showNight(reports);
  for (const place of document.querySelectorAll("[data-work]:not(template)")) showPiece(place, standOf(place, reports));
}

// A person's night: the piece that comes now, and what is behind.
function showNight(reports) {
  const shown = document.querySelector("[data-now][data-work]:not(template)");
  if (!shown) return;
  const stands = [shown, ...document.querySelectorAll("template[data-now][data-work]")]
    .map(place => ({ place, ...standOf(place, reports) }));
  const now = (stands.find(({ state }) => state === "running" || state === "interrupted")
    ?? stands.find(({ state }) => state === "planned"))?.place ?? document.querySelector("template[data-now]:not([data-work])");
  if (now !== shown) {
    const other = element("div", { class: "piece" });
    Object.assign(other.dataset, now.dataset);
    other.append(now.content.cloneNode(true));
    shown.replaceWith(other);
    undos.push(() => other.replaceWith(shown));
  }
  for (const item of document.querySelectorAll("li[data-work]")) {
    const stand = stands.find(({ place }) => place.dataset.address === item.dataset.address);
    if (stand) hide(item, stand.place === now || stand.state === "done");
    if (stand?.state === "done") showBehind(item, stand);
  }
}

function showBehind(item, { begun, sentences }) {
  const list = document.querySelector("[data-behind]"), past = item.cloneNode(true);
  past.className = "past";
  past.hidden = false;
  delete past.dataset.work;
  past.querySelector(".time").replaceChildren(begun);
  past.querySelector("div").replaceChildren(element("h3", {}, item.querySelector("h3").textContent),
    element("p", {}, sentences.join(" ")));
  add(() => list.append(past), past);
  hide(list.parentElement.querySelector("[data-nothing]"));
}

function showPiece(place, { state, isStopped, sentences }) {
  if (sentences.length === 0) return;
  const told = element("p", { class: "entered small" }, sentences.join(" "));
  add(() => place.querySelector("h1, h3").after(told), told);
  if (state === "running")
    for (const part of place.querySelectorAll("[data-begun]")) {
      const text = [...part.childNodes];
      part.replaceChildren(part.dataset.begun);
      undos.push(() => part.replaceChildren(...text));
    }
  const form = place.querySelector("form[data-report]"), kind = form && kindOf(form.getAttribute("action"));
  const bar = place.querySelector(".bar-acts-in, .acts");
  if (!bar || (state === place.dataset.state && !isStopped)) return;
  if (place.matches("[data-form]")) {
    if (isEntered(kind, state, isStopped))
      replaceForm(place, form, state, isStopped);
    return;
  }
  for (const child of bar.children)
    hide(child, state === "done" || child.matches(`form, ${overtaken}`));
  const acts = actsOf(place, state, isStopped);
  add(() => bar.prepend(...acts), ...acts);
}

// Whether the form of a piece's page asks for nothing any more.
function isEntered(kind, state, isStopped) {
  return kind === "started" ? state !== "planned" || isStopped
    : kind === "resumed" ? state !== "interrupted" || isStopped
    : kind === "reopened" ? state !== "done"
    : kind !== "stopped" && state === "done";
}

// The page of an act that is entered already leads on.
function replaceForm(place, form, state, isStopped) {
  const back = form.querySelector(".bar-acts a")?.getAttribute("href") ?? "/";
  const bar = element("div", { class: "bar-acts" }, element("div", { class: "bar-acts-in bar-two" },
    ...actsOf(place, state, isStopped), element("a", { class: "btn", href: back }, "Back to the night")));
  hide(form);
  add(() => form.after(bar), bar);
}

function actsOf(place, state, isStopped) {
  const link = (act, label, rank) => element("a", { class: `btn ${rank}`, href: `${place.dataset.address}?act=${act}` }, label);
  return state === "planned" ? isStopped ? [] : [link("start", "Start", "do")]
    : state === "running" ? [link("finish", "Finished", "do"), link("progress", "More time", ""),
      link("paused", "Interrupted", "")]
    : state === "interrupted" ? [...isStopped ? [] : [goOn(place)], link("finish", "Finished", "")]
    : [];
}

// The fields that each report on a piece has. The id and the token are added when it is sent.
function goOn(place) {
  const fields = { ...JSON.parse(place.dataset.work), id: "new", "at:now": "" };
  return element("form", { method: "post", action: `${weekOf(location.href)}/work/resumed`, "data-report": "" },
    ...Object.entries(fields).map(([name, value]) => element("input", { type: "hidden", name, value })),
    element("button", { class: "do" }, "Go on"));
}

// How a piece stands with the reports, and what is said of those on it.
function standOf(place, reports) {
  const work = JSON.parse(place.dataset.work), sentences = [];
  let { state } = place.dataset, isStopped = false, begun = "";
  for (const report of reports) {
    const fields = Object.fromEntries(report.fields), kind = kindOf(report.address);
    if (!kinds[kind] || weekOf(report.address) !== weekOf(location.href)) continue;
    const isOn = kind === "stopped" ? fields.night === work.night && (!fields.zone || fields.zone === place.dataset.zone)
      : Object.entries(work).every(([name, value]) => (fields[name] ?? (name === "night" ? value : undefined)) === value);
    if (!isOn) continue;
    // Work whose gate is not good does not begin; with a check that is not good it is not done.
    const isGood = !report.fields.some(([name, value]) => /\.result$/.test(name) && value === "notGood");
    const isOfBegunWork = ["blocked", "paused"].includes(kind);
    if (isGood && kinds[kind].state && !(isOfBegunWork && state === "planned")) state = kinds[kind].state;
    isStopped ||= kind === "stopped";
    if (isGood && kind === "started") begun = timeOf(report);
    const { says, more } = isGood ? kinds[kind] : { says: "Not good" };
    sentences.push(`${says} ${timeOf(report)}${report.isSent ? "" : ", not yet sent"}${more ?? "."}`);
  }
  return { state, isStopped, begun, sentences };
}

const kindOf = address => /\/work\/([a-z-]+)$/.exec(address.split("?")[0])?.[1];

const weekOf = address => /^\/weeks\/[^/]+/.exec(new URL(address, location.href).pathname)?.[0];

// The time that was entered, or that of the tap.
function timeOf({ fields, at }) {
  const said = fields.find(([name]) => name.endsWith(":now"))?.[1];
  return /^\d+:\d+$/.test(said) ? said : hour(said ?? at);
}

function hide(part, isHidden = true) {
  if (!part || part.hidden === isHidden) return;
  part.hidden = isHidden;
  undos.push(() => part.hidden = !isHidden);
}

function add(insert, ...parts) {
  insert();
  undos.push(() => parts.forEach(part => part.remove()));
}
