// Forms that report from the floor: a tap is kept on this device with its id and its time, shown as not yet sent, and sent when
// there is a connection.

import { expectPage, focus } from "./acts.js";
import { showEntered } from "./entered.js";
import { renew } from "./kept.js";
import { add, all, failsForLong, remove, send, watch } from "./queue.js";
import { fillIn } from "./refill.js";
import { doubleTap, readingTime, retryInterval } from "./times.js";
import { count, element, hour } from "./words.js";

const loaded = "setweek-loaded-after-sending", own = document.documentElement.dataset.person;
const status = element("div", { role: "status", "data-script": "" }), list = element("div", { "data-script": "" });
let state = "sent", hasWaited = false, isSending = false, isAsked = false, isTyped = false;
let taken = Promise.resolve(), retry, mended;
let sent = []; // the report whose next page is being opened

export async function start() {
  document.addEventListener("submit", event => {
    if (event.target.hasAttribute("data-report") && own && !event.defaultPrevented) {
      event.preventDefault();
      taken = taken.then(() => take(event.target, event.submitter)).catch(cannotRead);
    }
  });
  document.addEventListener("input", () => isTyped = true);
  document.querySelector("main").prepend(status, list);
  hasWaited = !!sessionStorage.getItem(loaded);
  sessionStorage.removeItem(loaded);
  watch(show);
  addEventListener("online", () => sendAll());
  addEventListener("hashchange", mend);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && sendAll());
  await mend();
  await sendAll();
}

// The address of a refused report ends in its number: its form has again what was entered, and replaces it.
async function mend() {
  const number = Number(/^#mend-(\d+)$/.exec(location.hash)?.[1]), report = (await all().catch(() => []))
    .find(one => one.number === number && one.person === own && one.refusal);
  if (!report) return;
  const form = [...document.querySelectorAll("form[data-report]")].find(one => one.getAttribute("action") === report.address
    && markOf(one) === report.mark);
  if (form) fillIn(form, report.fields);
  else say("This page does not have its form any more. Read below what was entered, and take it off the list.");
  mended = form && { form, number };
}

async function take(form, submitter) {
  const report = reportOf(form, submitter), isSame = one => one.person === own && one.form === report.form;
  let before;
  try {
    before = await all();
    const isTappedTwice = [...before, ...sent].some(one => isSame(one) && !one.refusal
      && Math.abs(Date.parse(report.at) - Date.parse(one.at)) < doubleTap);
    if (!isTappedTwice) await add(report);
  } catch (error) {
    // Private windows, a full disk. The form is sent as without script, and fails without a connection.
    say(`This phone cannot keep reports (${error.name}). It is sent now; without a connection it would be lost.`);
    form.removeAttribute("data-report");
    setTimeout(() => form.requestSubmit(submitter), readingTime);
    return;
  }
  navigator.storage?.persist?.();
  // What was refused is replaced, whether its form was led back to or is still there.
  for (const one of before) if (one.refusal && (isSame(one) || mended?.form === form && one.number === mended.number))
    await remove(one.number);
  await show();
  await sendAll({ opens: true });
  const left = (await all()).find(isSame);
  if (!left) sent = [report];
  if (left?.refusal) {
    // The form goes on with those of its reports that were refused.
    if (left.fields.length < report.fields.length) {
      fillIn(form, left.fields);
      mended = { form, number: left.number };
    }
    focus(list.querySelector("h2"));
  } else if (!left || await isKept(report.then)) open(report.then);
}

// An address that differs in its fragment alone would not be loaded again.
function open(address) {
  expectPage();
  const url = new URL(address, location.href), isHere = url.href.split("#")[0] === location.href.split("#")[0];
  if (!isHere) location.assign(url);
  else {
    if (url.hash) history.replaceState(null, "", url);
    location.reload();
  }
}

// The fields as they are sent, but for the token, which is that of the session then. Ids that the page has made are made anew,
// because a kept page is used many times.
function reportOf(form, submitter) {
  const at = new Date().toISOString().replace(/\.\d+/, ""), given = [...new FormData(form, submitter)];
  const made = new Map(given.filter(([name]) => isMadeId(name)).map(([, value]) => [value, crypto.randomUUID()]));
  const isSent = (name, value) => ![":token", ":then", ":key"].includes(name) && !(value instanceof File && !value.size);
  const fields = given.filter(([name, value]) => isSent(name, value))
    .map(([name, value]) => [name, isMadeId(name) ? made.get(value) : name.endsWith(":now") && value === "" ? at : value]);
  const key = made.get(form.elements[":key"]?.value) ?? made.get(form.elements.id?.value) ?? crypto.randomUUID();
  const then = given.find(([name]) => name === ":then")?.[1] ?? location.pathname + location.search;
  return {
    person: own, address: form.getAttribute("action") || location.href, fields: [...fields, [":key", key]], at, then,
    isMultipart: form.enctype === "multipart/form-data", act: actOf(form, submitter), about: aboutOf(form),
    form: formOf(form, submitter), mark: markOf(form), page: location.pathname + location.search,
  };
}

const isMadeId = name => /^(id|:key|:photo|reports\[\d+\]\.id)$/.test(name);

const actOf = (form, submitter) => (submitter ?? form.querySelector("button"))?.textContent.trim() ?? "";

// What the form stands under: the piece of work, the kit, the area.
const aboutOf = form => (form.closest("[data-about]")?.dataset.about
  ?? form.closest("section, article, li, .nowbox")?.querySelector("h1, h2, h3")?.textContent
  ?? document.querySelector("h1")?.textContent ?? "").trim().replace(/\s+/g, " ");

// What two taps of the same form have in common.
const formOf = (form, submitter) => JSON.stringify([form.getAttribute("action"), ...[...new FormData(form, submitter)]
  .filter(([name]) => !isMadeId(name) && !name.startsWith(":"))
  .map(([name, value]) => value instanceof File ? [name, value.name, value.size] : [name, value])]);

// What tells a form from the others, whatever is entered in it: an area, a kit. Null for a form that adds something each time.
const markOf = form => /\/(snags|questions)$/.test(form.getAttribute("action")) ? null
  : JSON.stringify([form.getAttribute("action"), ...[...form.querySelectorAll("input[type=hidden]")]
    .filter(({ name }) => !isMadeId(name) && !name.startsWith(":")).map(({ name, value }) => [name, value])]);

async function sendAll({ opens = false } = {}) {
  isAsked = true;
  if (isSending) return; // it begins again at its end
  isSending = true;
  clearTimeout(retry);
  let isAllSent = false;
  try {
    while (isAsked) {
      isAsked = false;
      const waiting = (await all()).filter(report => !report.refusal).length;
      hasWaited ||= waiting > 0;
      if (waiting) state = await send();
      isAllSent = state === "sent" && (isAllSent || waiting > 0);
      await show();
    }
  } catch (error) {
    cannotRead(error);
  } finally {
    isSending = false;
  }
  if (["later", "slow", "failing", "elsewhere"].includes(state)) sendLater();
  if (isAllSent) refresh(opens);
}

function sendLater() {
  clearTimeout(retry);
  retry = setTimeout(sendAll, retryInterval);
}

// The browser may open its database again by itself.
function cannotRead(error) {
  say(`This phone cannot read the reports that it keeps (${error.name}). Tell the lead what you entered.`);
  sendLater();
}

// Once everything is sent, the kept copies do not know of it. If one is shown, it is loaded anew, for what others have entered
// meanwhile: a stop, or an end. Not while somebody types in it, and not if another page is opened anyway.
function refresh(opens) {
  renew();
  if (opens || isTyped || !document.documentElement.dataset.kept) return;
  sessionStorage.setItem(loaded, "yes");
  location.reload();
}

async function show() {
  const reports = await all(), mine = reports.filter(report => report.person === own), others = reports.length - mine.length;
  const waiting = mine.filter(report => !report.refusal), refused = mine.filter(report => report.refusal);
  hasWaited ||= waiting.length > 0;
  say(waiting.length ? waitingSentence(waiting.length)
    : others ? `${count(others, "report")} of ${own ? "somebody else" : "the people of this phone"} `
      + `${others === 1 ? "waits" : "wait"} here. Nothing is lost: each goes when the person who entered it signs in here.`
    : hasWaited && !refused.length ? `${hour(new Date())}. All sent.` : "");
  status.className = waiting.length || others ? "sent wait" : status.textContent ? "sent" : "";
  list.replaceChildren(...refused.length ? [sectionOf("Not accepted", refused)] : [],
    ...waiting.length ? [sectionOf("Not yet sent", waiting)] : []);
  markForms(waiting);
  showEntered(mine);
}

function waitingSentence(number) {
  const wait = `${count(number, "report")} ${number === 1 ? "waits" : "wait"} on this phone.`;
  return state === "signed out" ? `${wait} Your session is over. Nothing is lost: sign in again, then they go.`
    : state === "other person" ? `${wait} Somebody else is signed in now. They go when you sign in again.`
    : state === "elsewhere" ? `${wait} Another page of this browser sends them.`
    : navigator.onLine && !["later", "slow", "failing"].includes(state) ? `${wait} Being sent.`
    : `${navigator.onLine && obstacles[state] || "No connection."} ${wait} `
      + "Nothing is lost: go on working, they go by themselves while this page is open.";
}

// What keeps reports from being sent although there is a network.
const obstacles = {
  slow: "The connection is too slow for a photograph.", failing: "The service cannot take them now.",
};

function sectionOf(title, reports) {
  const id = title.toLowerCase().replaceAll(" ", "-"), waits = title === "Not yet sent";
  return element("section", { "aria-labelledby": id, class: "stack" }, element("h2", { id }, title),
    element("ol", { class: "run" }, ...reports.map(report => element("li", {}, element("p", { class: "time" }, hour(report.at)),
      element("div", {}, element("h3", {}, report.act), element("p", {}, report.about),
        ...(report.refusal ?? []).map(sentence => element("p", {}, sentence)),
        ...waits && failsForLong(report)
          ? [element("p", {}, "The service fails at this report. Tell the lead what you entered.")] : [],
        ...waits ? [] : [...report.page ? [element("p", { class: "acts" }, element("a",
          { class: "btn", href: `${report.page}#mend-${report.number}` }, "Mend it"))] : [],
          act("Take it off this list", async () => {
            await remove(report.number);
            await show();
          })])))),
    ...waits ? [element("p", { class: "small" }, `This phone's clock is used: ${hour(new Date())} here. `
      + "What others have entered since is not shown yet."), act("Try now", () => sendAll())] : []);
}

function act(label, done) {
  const button = element("button", { type: "button" }, label);
  button.addEventListener("click", done);
  return element("p", { class: "acts" }, button);
}

// A form whose report waits says so; those of pieces say more (entered.js).
function markForms(waiting) {
  for (const form of document.querySelectorAll("form[data-report]")) {
    const mark = form.closest("[data-work]") ? null : markOf(form), report = mark && waiting.find(one => one.mark === mark);
    const note = form.querySelector(".entered");
    if (!report) note?.remove();
    else if (!note) form.prepend(element("p", { class: "entered small" }, `Entered at ${hour(report.at)}, not yet sent.`));
  }
}

const isKept = async address => "caches" in self && !!await caches.match(new URL(address, location.href).href);

// Said once: a screen reader reads every change.
function say(text) {
  if (status.textContent !== text) status.replaceChildren(...text ? [element("p", {}, text)] : []);
}
