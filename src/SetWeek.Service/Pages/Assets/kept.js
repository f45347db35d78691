// The copies of pages on this device: asks the service worker to keep those of the night, and says when a copy is shown.

import { element, hour } from "./words.js";

const { session, kept } = document.documentElement.dataset;

// The page for want of a connection stands at the address of another, and that of a failure may not know who is signed in.
const isStandIn = !!document.querySelector("[data-kept-pages], [data-failure]");

export async function start() {
  if (kept) sayKept();
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
      (await navigator.serviceWorker.ready).active.postMessage({ keep: pagesOfNight(), files: filesOfPage(), session });
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
const acts = ["start", "finish", "paused", "resumed", "blocked", "reopened", "not-safe"];

function withActs(address) {
  const piece = /^[^?]+\/pieces\/\d+/.exec(address)?.[0];
  return piece ? [address, ...acts.map(act => `${piece}?act=${act}`)] : [address];
}

// What was entered is sent: the copies that do not know of it are taken anew.
export const renew = () => navigator.serviceWorker?.controller?.postMessage({ renew: true });

const filesOfPage = () => performance.getEntriesByType("resource").map(entry => entry.name)
  .filter(name => new URL(name).pathname.startsWith("/assets/"));

function sayKept() {
  document.querySelector("main").prepend(element("div", { class: "told late", role: "status", "data-script": "" },
    element("p", {}, element("strong", {}, "No connection. "), `This is the page as it stood at ${hour(kept)}, by this phone's `
    + "clock. What you enter is kept, and sent later with its time.")));
}

const sayNewer = () => document.querySelector(".told.late p")?.replaceChildren(
  "The connection is slow: this is the page as it stood before. A newer one has come. ",
  element("a", { href: location.href }, "Look now"));

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
