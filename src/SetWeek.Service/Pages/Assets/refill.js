// Fills in again the form of a report that was refused, as it was entered on this device.

import { hour } from "./words.js";

export function fillIn(form, fields) {
  const entered = name => fields.filter(([field]) => field === name).map(([, value]) => value);
  for (const field of form.elements) {
    const values = entered(field.name);
    if (!field.name || field.tagName === "BUTTON") continue;
    if (field.type === "checkbox" || field.type === "radio") field.checked = values.includes(field.value);
    else if (field.type === "file") attach(field, values[0]);
    // It happened when it was entered, also where the form has no field for the time.
    else if (field.type === "hidden") field.value = field.name === "at:now" ? values[0] ?? "" : field.value;
    else field.value = field.name.endsWith(":now") && values[0]?.includes("T") ? hour(values[0]) : values[0] ?? "";
  }
  for (const part of form.querySelectorAll("details")) part.open = true;
  form.closest("details")?.setAttribute("open", "");
  form.scrollIntoView();
}

function attach(field, file) {
  if (!(file instanceof File)) return;
  const chosen = new DataTransfer();
  chosen.items.add(file);
  field.files = chosen.files;
}
