// The copies of pages on this device: asks the service worker to keep those of the night, and says when a copy is shown.

import { all } from "./queue.js";
import { checkInterval, copyDelay } from "./times.js";
import { element, hour } from "./words.js";

const { session, kept, keptReason, person } = document.documentElement.dataset;
let isNewer = false;

// The page for want of a connection stands at the address of another, and that of a failure may not know who is signed in.
const isStandIn = !!document.querySelector("[data-kept-pages], [data-failure]");

export async function start() {
  if (kept) {
    sayKept();
    lookAgain();
  }
  listKept();
  if (!("serviceWorker" in navigator)) return;
  // Before anything is waited for: the newer page may come at any time.
  navigator.serviceWorker.addEventListener("message", event => event.data.newer && sayNewer());
  try {
    // Also here, because the first page of a browser has no worker yet.
    const known = await (await caches.open("pages")).match("/kept-session");
    if (!kept && !isStandIn && known && await known.text() !== session) await caches.delete("pages");
    const worker = await navigator.serviceWorker.register("/service-worker.js");
    if (session && !kept)
      (await navigator.serviceWorker.ready).active.postMessage({ keep: pagesOfNight(), session });
    return worker;
  } catch (error) {
    if (document.body.matches(".phone"))
      foot(`This browser keeps no pages (${error.name}). Without a connection this page does not open again.`);
  }
}

// This page and those that it leads to; the worker takes what belongs to a night.
const pagesOfNight = () => [...new Set([location.href, ...linksOf(document, "main a[href], nav a[href]"),
  ...[...document.querySelectorAll("template")].flatMap(template => linksOf(template.content, "a[href]"))])]
  .filter(address => address.startsWith(location.origin)).slice(0, 400);

const linksOf = (part, selector) => [...part.querySelectorAll(selector)]
  .flatMap(link => withActs(new URL(link.getAttribute("href"), location.href).href.split("#")[0]));

// Also the acts of a piece that are not offered yet: without a connection it may be begun and finished. They are those of the
// address of a piece (ReadPiece.cs).
const acts = ["start", "finish", "progress", "paused", "resumed", "blocked", "reopened", "not-safe"];

function withActs(address) {
  const piece = /^[^?]+\/pieces\/\d+/.exec(address)?.[0];
  return piece ? [address, ...acts.map(act => `${piece}?act=${act}`)] : [address];
}

// What was entered is sent: the copies that do not know of it are taken anew.
export const renew = () => navigator.serviceWorker?.controller?.postMessage({ renew: true });

// Why a copy is shown, by the word of the service worker; one of an earlier version says none.
const reasons = {
  offline: "No connection. ", slow: "No answer yet. ", failing: "The service cannot show this page now. ",
  elsewhere: "The connection does not reach the service. ",
};

function sayKept() {
  document.querySelector("main").prepend(element("div", { class: "told late", role: "status", "data-script": "" },
    element("p", {}, element("strong", {}, reasons[keptReason] ?? ""),
      `This is the page as it stood at ${hour(kept)}, by this phone's clock. `
      + "What you enter is kept, and sent later with its time.")));
}

function sayNewer(sentence = "The connection is slow: this is the page as it stood before. A newer one has come. ") {
  isNewer = true;
  document.querySelector(".told.late p")?.replaceChildren(sentence,
    element("a", { href: location.href.split("#")[0] }, "Look now"));
}

// Others may have entered a stop or an end since. So a kept copy asks for its page until the service answers, and is then loaded
// anew, unless somebody fills in something. The reports that wait go first; the page is loaded after them (reports.js).
function lookAgain() {
  let isAsking = false, isUsed = false;
  const ask = async () => {
    if (isAsking || isNewer || document.visibilityState === "hidden") return;
    isAsking = true;
    const isReady = !await isWaiting() && await isAnswered();
    isAsking = false;
    if (!isReady || isNewer) return;
    if (isUsed) sayNewer("There is a connection again, and others may have entered something since. Finish here first. ");
    else location.reload();
  };
  for (const sign of ["input", "submit"]) document.addEventListener(sign, () => isUsed = true);
  document.addEventListener("visibilitychange", ask);
  addEventListener("online", ask);
  setInterval(ask, checkInterval);
}

const isWaiting = async () => (await all().catch(() => [])).some(report => report.person === person && !report.refusal);

// In time, or the worker would show the copy again; and not that the session is over: the copy is then the better page.
async function isAnswered() {
  const request = { headers: { accept: "text/html" }, cache: "no-store", signal: AbortSignal.timeout(copyDelay) };
  const answer = await fetch(location.href, request).catch(() => undefined);
  return answer?.ok && (answer.headers.get("setweek-session") ?? "none") !== "none";
}

// On the page that says that there is no connection: what can be opened all the same.
async function listKept() {
  const place = document.querySelector("[data-kept-pages]");
  if (!place || !("caches" in self)) return;
  const cache = await caches.open("pages"), entries = [];
  for (const request of await cache.keys()) {
    if (request.url.includes("/pieces/")) continue; // the pages of a night lead to these
    const copy = await cache.match(request), from = copy?.headers.get("setweek-kept");
    const title = from && new DOMParser().parseFromString(await copy.text(), "text/html").title;
    if (title) entries.push(element("li", {}, element("a", { href: request.url }, title), `, as it stood at ${hour(from)}`));
  }
  place.replaceChildren(...entries.length ? entries : [element("li", {}, "No page is kept on this device.")]);
}

function foot(sentence) {
  document.querySelector("main").append(element("p", { class: "told late" }, sentence));
}
