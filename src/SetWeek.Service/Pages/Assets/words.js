// Words, times and elements that the modules share.

const numbers = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];

export const count = (number, noun) => `${numbers[number] ?? number} ${noun}${number === 1 ? "" : "s"}`;

// A time of day by the clock of this device.
export const hour = time => new Date(time).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}
