// The reports of this device that are not sent yet, in IndexedDB: they outlast the page, the browser and the phone. Each belongs
// to the person who made it, and is sent in that person's session alone, the oldest first. It leaves the queue when the service
// has taken it, or when the person has read why it was refused. The service takes a repeated report once, by its id.

import { answerLimit, failureLimit } from "./times.js";

const database = "setweek", reports = "reports";
const slowest = 20; // bytes per millisecond of an upload
const channel = "BroadcastChannel" in self ? new BroadcastChannel("setweek-queue") : null;
let opening;

export const add = report => change(store => store.add(report));

export const remove = number => change(store => store.delete(number));

export const all = async () => {
  const transaction = (await open()).transaction(reports, "readonly");
  return await ended(transaction, transaction.objectStore(reports).getAll());
};

// Calls back when another page of this browser has changed the queue.
export const watch = changed => channel?.addEventListener("message", changed);

// Who is signed in, and the token of the session: { person, token }; null if nobody is. Throws without a connection.
export async function session() {
  const answer = await ask("/session", { headers: { accept: "application/json" } });
  if (answer.status === 401) return null;
  if (!answer.ok) throw noUse(answer);
  const { tenant, person, formToken } = await answer.json();
  return { person: `${tenant}/${person}`, token: formToken };
}

// Sends what waits, one page of the browser at a time. Returns why it stopped: "sent", "signed out", "other person", "later" (no
// answer), "slow" (a photograph has run out of time), "failing" (the service cannot take it now) or "elsewhere" (another page of
// this browser has the turn).
export const send = () => navigator.locks
  ? navigator.locks.request("setweek-queue", { signal: AbortSignal.timeout(answerLimit) }, sendAll).catch(outOfTurn)
  : sendAll();

function outOfTurn(error) {
  if (error.name !== "TimeoutError") throw error;
  return "elsewhere";
}

async function sendAll() {
  let signedIn, renewed = false, reason; // why reports were passed over
  const passedOver = new Set();
  for (;;) {
    const waiting = (await all()).filter(report => !report.refusal && !passedOver.has(report.number));
    if (waiting.length === 0) return reason ?? "sent";
    let report;
    try {
      signedIn ??= await session();
      if (!signedIn) return "signed out";
      report = waiting.find(one => one.person === signedIn.person);
      if (!report) return reason ?? "other person";
      const answer = await post(report, signedIn.token);
      if (answer.ok) await remove(report.number);
      else if (answer.status === 401) return "signed out";
      else if (isOldToken(answer)) {
        // The session has changed in between. Once: then somebody must look.
        if (renewed) return "signed out";
        [signedIn, renewed] = [null, true];
      } else if (isForLater(answer)) return "failing";
      else if (answer.status === 500) {
        const failed = { ...report, failsSince: report.failsSince ?? Date.now() };
        await change(store => store.put(failed));
        if (!failsForLong(failed)) return "failing";
        passedOver.add(report.number);
        reason = "failing";
      } else {
        const refused = { ...report, fields: without(answer.taken, report.fields), refusal: answer.sentences };
        await change(store => store.put(refused));
      }
    } catch (error) {
      // Smaller reports may arrive on a line that is too slow for a photograph.
      if (error.name !== "TimeoutError" || !report || !photoBytes(report)) return error.isFailure ? "failing" : "later";
      passedOver.add(report.number);
      reason = "slow";
    }
  }
}

// The service, or a proxy before it, cannot now, whatever is sent; or it is still at work on the same report.
const isForLater = ({ status, code }) => status > 500 || [408, 425, 429].includes(status) || code === "still-under-way";

// A report at which the service itself has failed for a minute does not hold up the others.
export const failsForLong = ({ failsSince }) => Math.abs(Date.now() - failsSince) >= failureLimit;

// The fields without those of the reports that were taken: sent again, they would be reports of their own.
function without(taken, fields) {
  const rows = fields.filter(([name, value]) => name.endsWith("].id") && taken.includes(value))
    .map(([name]) => name.slice(0, -"id".length)); // "reports[3]."
  return fields.filter(([name]) => !rows.some(row => name.startsWith(row)));
}

const photoBytes = ({ fields }) => fields.reduce((sum, [, value]) => sum + (value.size ?? 0), 0);

// Posts a report as its form would have been posted.
async function post(report, token) {
  const { address, fields, isMultipart } = report;
  const body = isMultipart ? new FormData() : new URLSearchParams();
  for (const [name, value] of [[":token", token], ...fields]) body.append(name, value);
  const request = { method: "POST", body, headers: { accept: "application/json" } };
  const answer = await ask(address, request, photoBytes(report) / slowest);
  const said = isJson(answer) ? await answer.json() : {};
  // Of several reports in one form each has an answer of its own.
  const answers = answer.ok ? said.answers ?? [] : [{ status: answer.status, problem: said }];
  const refused = answers.filter(one => one.status >= 400);
  return {
    ok: refused.length === 0, status: answer.status, code: said.code,
    taken: answers.filter(one => one.status < 400).map(({ id }) => id),
    sentences: [...new Set(refused.flatMap(({ status, problem }) => [problem?.detail ?? withoutReason(status),
      ...problem?.because ?? [], ...(problem?.errors ?? []).map(fault => fault.detail)]))],
  };
}

const withoutReason = status => status === 413 ? "It is too large to be sent. Send a smaller photograph, or none."
  : `The service refused it (${status}).`;

// An answer that says nothing of what was asked: a failure of the service or of a proxy before it, or none of the service's.
const noUse = ({ status }) => Object.assign(new Error(`${status}`), { isFailure: status >= 500 });

const isOldToken = answer => answer.status === 403 && answer.code === "no-form-token";

// The service answers in JSON. An answer from elsewhere, as that of a network that wants a sign-in of its own, is none. But a
// proxy before the service may say that a body is too large (413), and will say so again.
async function ask(address, request, longer = 0) {
  const signal = AbortSignal.timeout(answerLimit + longer);
  const answer = await fetch(address, { ...request, cache: "no-store", signal });
  const isMeant = isJson(answer) || [204, 413].includes(answer.status);
  if (new URL(answer.url).origin !== location.origin || !isMeant) throw noUse(answer);
  return answer;
}

const isJson = answer => /[/+]json\b/.test(answer.headers.get("content-type"));

// "strict": the change is on the disk before it counts as made.
async function change(act) {
  const transaction = (await open()).transaction(reports, "readwrite", { durability: "strict" });
  const result = await ended(transaction, act(transaction.objectStore(reports)));
  channel?.postMessage("changed");
  return result;
}

function ended(transaction, request) {
  return new Promise((done, fail) => {
    transaction.oncomplete = () => done(request.result);
    transaction.onabort = () => fail(transaction.error ?? request.error);
  });
}

function open() {
  return opening ??= new Promise((done, fail) => {
    const request = indexedDB.open(database, 1);
    setTimeout(() => fail(new DOMException("", "TimeoutError")), answerLimit);
    request.onupgradeneeded = () => request.result.createObjectStore(reports, { keyPath: "number", autoIncrement: true });
    request.onsuccess = () => {
      request.result.onversionchange = request.result.onclose = () => {
        request.result.close();
        opening = undefined;
      };
      done(request.result);
    };
    request.onerror = () => fail(request.error);
  }).catch(error => {
    opening = undefined;
    throw error;
  });
}
