// Before and after a form. On a page that has stood for a minute, and without a network, a form that is not kept on the device
// (reports.js) first asks who is signed in: if the session is over, or the service does not answer, it stays with what was typed,
// and says what to do. The page that follows a form begins at what was wrong, or else at its heading.

import { session } from "./queue.js";
import { sessionTrust } from "./times.js";
import { element } from "./words.js";

const formSent = "setweek-form-sent", own = document.documentElement.dataset.person;
// When the service last confirmed the session: a kept copy does not come from it.
let confirmedAt = document.documentElement.dataset.kept ? 0 : Date.now(), isAsking = false, allowed;

export function start() {
  if (sessionStorage.getItem(formSent)) begin();
  document.addEventListener("submit", event => {
    const { target: form, submitter } = event;
    if (event.defaultPrevented || form.method !== "post") return;
    if (form === allowed || !own || isForNobody(form) || isInTouch()) expectPage();
    else {
      event.preventDefault();
      send(form, submitter);
    }
  });
}

// Without a network the service is asked all the same: it may be on this device.
const isInTouch = () => navigator.onLine && Math.abs(Date.now() - confirmedAt) < sessionTrust;

// The next page is what a form has led to.
export const expectPage = () => sessionStorage.setItem(formSent, "yes");

// Gives the focus to a part of the page that is no control.
export function focus(part, options) {
  part?.setAttribute("tabindex", "-1");
  part?.focus(options);
}

// The browser itself goes to the fragment of an address, and to what has autofocus.
function begin() {
  sessionStorage.removeItem(formSent);
  const wrong = document.querySelector("main [role=alert]");
  if (wrong?.autofocus) return;
  if (wrong) focus(wrong);
  else if (!location.hash) focus(document.querySelector("main h1"), { preventScroll: true });
}

// Whoever signs in need not be signed in.
const isForNobody = form => /^\/(sign-in|phone)(\/|$)/.test(new URL(form.action).pathname);

// Signing out ends the session of this browser, whosever it is by now; if there is none any more, nothing is left to end.
const isSignOut = form => new URL(form.action).pathname === "/sign-out";

async function send(form, submitter) {
  if (isAsking) return;
  isAsking = true;
  const signedIn = await session().catch(() => undefined);
  isAsking = false;
  form.querySelector(".unsent")?.remove();
  if (signedIn === undefined || signedIn?.person !== own && !isSignOut(form))
    return form.append(unsent(signedIn, form, submitter ?? form.querySelector("button")));
  if (signedIn) {
    confirmedAt = Date.now();
    form.elements[":token"].value = signedIn.token; // the page's own is that of its session
  }
  allowed = form;
  form.requestSubmit(submitter);
  allowed = undefined;
}

function unsent(signedIn, form, button) {
  const again = `press “${button.textContent.trim()}” again.`;
  const isTypedIn = [...form.elements].some(({ type }) => !["hidden", "submit"].includes(type));
  const kept = isTypedIn ? "What you typed is still here. " : "";
  const link = element("a", { href: "/", target: "_blank" }, "Sign in again in another tab");
  return element("div", { class: "told late measure after unsent", role: "alert" }, element("p", {},
    element("strong", {}, "Nothing was sent. "), ...signedIn === undefined
      ? [`The service does not answer. ${kept}Once there is a connection, ${again}`]
      : [`${signedIn ? "Somebody else is signed in in this browser now." : "Your session is over."} ${kept}`,
        link, `, then ${again}`]));
}
