// Keeps the pages of a night on the device, so that they open without a network. The network goes first; after three seconds,
// without one, or where the service fails, the kept copy is shown. It says from when it is, and why it is shown. This worker
// keeps the pages of one session: when a page is that of another session, or of none, everything kept is removed. The files of a
// kept page are kept with it: after an update of the service those of its version are to be had nowhere else. Reports wait
// elsewhere (queue.js), and are not touched here.

const pages = "pages", files = "files", sessionAddress = "/kept-session", offline = "/offline";
const second = 1000, copyDelay = 3 * second, answerLimit = 20 * second; // as in times.js
const fresh = 5 * 60 * second; // a copy is not taken anew so soon, unless reports were sent
const mostFailures = 5; // more than the four pages of one night, which fail together
const html = { headers: { accept: "text/html" } };
let lastTask = Promise.resolve();

const isKept = path => (/^\/weeks\/[^/]+\/(tonight|nights|displays|kits|snags|walk-through)(\/|$)/.test(path)
  || /^\/directions\/[^/]+$/.test(path)) && !/\.(pdf|csv|xlsx|svg)$/.test(path);

// The pages that list what one may enter of: each kit, area and snag has a page of its own.
const isList = ({ pathname, search }) => !search && /^\/weeks\/[^/]+\/(kits|snags|walk-through)$/.test(pathname);

self.addEventListener("install", event => {
  self.skipWaiting();
  event.waitUntil(keepOfflinePage());
});

self.addEventListener("activate", event => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", event => {
  const { request } = event, url = new URL(request.url);
  if (url.origin !== location.origin) return;
  if (url.pathname.startsWith("/assets/")) event.respondWith(file(request));
  else if (request.mode === "navigate") event.respondWith(request.method === "GET" ? page(event, url) : change(event, url));
});

// A page says which addresses belong to its night.
self.addEventListener("message", event => {
  if (event.data.forget) event.waitUntil(forget());
  if (event.data.keep) event.waitUntil(inTurn(() => keepAll(event.data).then(removeOldFiles)));
  if (event.data.renew) event.waitUntil(inTurn(renew));
});

async function page(event, url) {
  const kept = isKept(url.pathname) ? await (await caches.open(pages)).match(url.href) : undefined;
  const network = fetch(event.request);
  const remembered = network.then(answer => isOurs(answer) && remember(url, copyOf(answer, url))).catch(() => false);
  event.waitUntil(remembered.then(isKept => isKept && inTurn(() => keepFilesOf(url.href))));
  if (!kept) return network.catch(noConnection);
  const late = new Promise(done => setTimeout(done, copyDelay, "slow"));
  const answer = await Promise.race([network, late]).catch(() => "offline");
  const reason = typeof answer === "string" ? answer : reasonAgainst(answer);
  if (!reason) return answer;
  event.waitUntil(remembered.then(isNewer => isNewer && tellNewer(event.resultingClientId)));
  return kept.status === 303 ? kept : marked(kept, reason);
}

// Why the kept copy is shown in place of an answer: the service or a proxy before it fails, or something else has answered.
const reasonAgainst = answer => answer.status >= 500 ? "failing"
  : answer.type === "opaqueredirect" || isOurs(answer) ? undefined : "elsewhere";

// Whether an answer is a page of this service, and not that of a proxy or of a network that wants a sign-in of its own.
const isOurs = answer => answer.headers.has("setweek-session");

// What a form asks for is never answered from here. Whoever has signed out leaves no page behind: the service has then led on, or
// said that nobody is signed in. Without its answer the session goes on, and its pages stay.
async function change(event, url) {
  const answer = await fetch(event.request).catch(() => undefined);
  if (!answer) return noConnection();
  if (url.pathname.startsWith("/sign-out") && (answer.type === "opaqueredirect" || sessionOf(answer) === "none")) await forget();
  return answer;
}

// The address of a file holds the hash of its content.
async function file(request) {
  const cache = await caches.open(files), kept = await cache.match(request.url);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) cache.put(request.url, answer.clone()).catch(() => { });
  return answer;
}

// A body that is shared with a copy reaches the page through this worker; so it is shared only where the copy is read.
const copyOf = (answer, url) => isKept(url.pathname) ? answer.clone()
  : new Response(null, { status: answer.status, headers: answer.headers });

// Keeps the answer to a navigation if its page belongs to the night. Returns whether it did. Only a page that is opened decides
// whose pages are kept.
async function remember(url, answer) {
  const session = sessionOf(answer);
  if (session === "none") {
    await forget();
    return false;
  }
  if (await keptSession() !== session) await begin(session);
  return await keep(url, answer, session);
}

const sessionOf = answer => answer.headers.get("setweek-session");

const keptSession = async () => (await (await caches.open(pages)).match(sessionAddress))?.text();

async function begin(session) {
  await forget();
  await (await caches.open(pages)).put(sessionAddress, new Response(session));
}

// Keeps an answer unless the session has changed since it was asked for, also while it is written.
async function keep(url, answer, session) {
  if (!answer.ok || !isKept(url.pathname) || sessionOf(answer) !== session) return false;
  const headers = new Headers(answer.headers);
  headers.set("setweek-kept", new Date().toISOString());
  return await put(url.href, new Response(await answer.text(), { headers }), session);
}

async function put(address, copy, session) {
  await (await caches.open(pages)).put(address, copy);
  if (await keptSession() === session) return true;
  await (await caches.open(pages)).delete(address);
  return false;
}

// The kept copy, whose page finds in it from when it is and why it is shown.
async function marked(kept, reason) {
  const { headers } = kept, text = await kept.text(), from = headers.get("setweek-kept");
  return new Response(text.replace("<html ", `<html data-kept="${from}" data-kept-reason="${reason}" `), { headers });
}

// One after another, so that no page is asked for twice at once.
function inTurn(act) {
  return lastTask = lastTask.then(act).catch(() => { });
}

// The first page of a browser is loaded without this worker, so that its message may be the first that is heard of its session.
async function keepAll({ keep: wanted, session }) {
  if (await keptSession() === undefined) await begin(session);
  const addresses = wanted.map(address => new URL(address, location.origin).href);
  await takeAll(addresses, session, isDue);
  for (const list of addresses.filter(address => isList(new URL(address))))
    await takeAll(await linksOf(list), session, isDue);
}

async function isDue(address) {
  const { origin, pathname } = new URL(address);
  if (origin !== location.origin || !isKept(pathname)) return false;
  const kept = await (await caches.open(pages)).match(address);
  return !kept || Date.now() - Date.parse(kept.headers.get("setweek-kept")) >= fresh;
}

// Where the links of a kept page lead. A worker has no parser of HTML; the addresses of the service need no other reference.
async function linksOf(address) {
  const text = await (await (await caches.open(pages)).match(address))?.text() ?? "";
  return [...text.slice(text.indexOf("<main")).matchAll(/<a\b[^>]*\bhref="([^"]+)"/g)]
    .map(([, link]) => new URL(link.replaceAll("&amp;", "&"), address).href.split("#")[0]);
}

// Takes the kept pages anew whose content reports change. The form of an act asks the same before and after.
async function renew() {
  const addresses = (await (await caches.open(pages)).keys()).map(({ url }) => url);
  await takeAll(addresses, await keptSession(), address =>
    /^\/weeks\//.test(new URL(address).pathname) && !address.includes("/pieces/"));
}

// A page may fail for itself. Without a network, without room, or after a few failures, no other is asked for.
async function takeAll(addresses, session, isWanted) {
  let failed = 0;
  for (const address of addresses) {
    if (!await isWanted(address)) continue;
    if (!session || await keptSession() !== session) return;
    try {
      await take(address, session);
    } catch (error) {
      if (++failed > mostFailures || error.name === "QuotaExceededError" || !await isThere()) return;
    }
  }
}

const isThere = () => ask("/health/live", { method: "HEAD" }).then(({ ok }) => ok, () => false);

// The files come first: without them the copy before is better.
async function take(address, session) {
  const answer = await ask(address, html);
  if (!isOurs(answer) || !answer.ok) return;
  await keepFiles(filesIn(await answer.clone().text()));
  const isTaken = await keep(new URL(answer.url), answer, session);
  if (isTaken && answer.redirected) await put(address, Response.redirect(answer.url, 303), session);
}

const ask = (address, request) => fetch(address, { ...request, signal: AbortSignal.timeout(answerLimit) });

// In attributes alone: somebody's words may look like an address.
const filesIn = text => [...text.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map(([, address]) => address);

async function keepFiles(addresses) {
  const cache = await caches.open(files);
  for (const address of addresses) {
    if (await cache.match(address)) continue;
    const answer = await ask(address);
    if (!answer.ok) throw new Error(`${answer.status}`);
    await cache.put(address, answer);
  }
}

async function keepFilesOf(address) {
  const copy = await (await caches.open(pages)).match(address);
  if (copy) await keepFiles(filesIn(await copy.text()));
}

// Those of a version that no kept page uses. All files of a version have one hash.
async function removeOldFiles() {
  const cache = await caches.open(files), stored = (await cache.keys()).map(({ url }) => url);
  const unused = new Set(stored.map(versionOf).filter(version => version));
  for (const copy of [await cache.match(offline), ...await (await caches.open(pages)).matchAll()]) {
    if (copy) unused.delete(versionOf(filesIn(await copy.text())[0]));
    if (!unused.size) return;
  }
  for (const url of stored) if (unused.has(versionOf(url))) await cache.delete(url);
}

const versionOf = address => /\/assets\/([0-9a-f]+)\//.exec(address)?.[1];

async function forget() {
  await caches.delete(pages);
}

async function tellNewer(id) {
  const client = id && await self.clients.get(id);
  client?.postMessage({ newer: true });
}

async function noConnection() {
  return await (await caches.open(files)).match(offline) ?? Response.error();
}

// The page that is shown when there is no connection and no copy, with its files.
async function keepOfflinePage() {
  const answer = await ask(offline, { ...html, credentials: "omit" });
  if (!answer.ok) return;
  await keepFiles(filesIn(await answer.clone().text()));
  await (await caches.open(files)).put(offline, answer);
}
