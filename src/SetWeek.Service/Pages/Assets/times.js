// How long the scripts of a page wait, in milliseconds, and why. The service worker is no module, because not every browser loads
// modules in a worker: it repeats two of these under the same names, and a test compares them.

const second = 1000, minute = 60 * second;

// The longest wait for an answer of the service, for the turn to send, and for the browser's own database. A store's line is
// slow, and nobody may wait without end. A photograph has more (queue.js).
export const answerLimit = 20 * second;

// The service worker shows the kept copy of a page after this. A person with a phone in the hand waits no longer.
export const copyDelay = 3 * second;

// A page asks so often whether the service is there and whether something is new: others work in the same night.
export const checkInterval = 20 * second;

// A page that has heard nothing for so long says how old it is: several checks have failed by then.
export const silenceLimit = 2 * minute;

// Events come in groups: a page waits for the rest of a group, and rests between two readings of itself.
export const eventDelay = second / 2, readingPause = 5 * second;

// A session that the service confirmed less than this ago needs no question before a form is sent.
export const sessionTrust = minute;

// The same form sent again within this is a second tap, and no second report.
export const doubleTap = minute;

// A report at which the service has failed for so long holds up the later ones no more.
export const failureLimit = minute;

// Reports that could not be sent are tried again after this.
export const retryInterval = 15 * second;

// Somebody reads a sentence before another page takes its place.
export const readingTime = 2 * second;
