// The quick entry of parts: what is typed outlives a reload and a dead
// network, names are put in by a tap, pieces counted by thumb. Enter saves as
// in any form.

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-draft]")) draft(form);
for (const form of document.querySelectorAll<HTMLFormElement>("form[data-draft]")) quick(form);

type Typed = [name: string, value: string][];

// The server names in every page what it has kept: then the draft is done.
function draft(form: HTMLFormElement): void {
  const key = `draft ${form.dataset.draft}`;
  const faulty = document.getElementById("error-summary") !== null;
  if (document.querySelector("[data-saved]")) forget(key);
  const before = read(key);
  if (before && !faulty) {
    fill(form, before);
    const told = document.querySelector<HTMLElement>("[data-brought]");
    if (told) told.hidden = false;
    told?.querySelector("button")?.addEventListener("click", () => {
      forget(key);
      location.reload();
    });
  }
  const keep = () => write(key, typedIn(form));
  form.addEventListener("input", keep);
  form.addEventListener("change", keep);
  form.addEventListener("submit", keep);
}

function typedIn(form: HTMLFormElement): Typed {
  const out: Typed = [];
  for (const [name, value] of new FormData(form)) {
    if (name !== "token" && name !== "number" && name !== "before" && typeof value === "string") out.push([name, value]);
  }
  return out;
}

function fill(form: HTMLFormElement, typed: Typed): void {
  for (const e of form.elements) {
    const said = typed.filter(([name]) => name === (e as HTMLInputElement).name).map(([, value]) => value);
    if (e instanceof HTMLInputElement && (e.type === "checkbox" || e.type === "radio")) e.checked = said.includes(e.value);
    else if (said.length > 0 && (e instanceof HTMLInputElement || e instanceof HTMLTextAreaElement || e instanceof HTMLSelectElement) && e.type !== "hidden") e.value = said[0];
  }
}

// A browser may refuse to keep anything; then a draft lives as long as its page.
function read(key: string): Typed | null {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null") as Typed | null;
  } catch {
    return null;
  }
}

function write(key: string, typed: Typed): void {
  try {
    localStorage.setItem(key, JSON.stringify(typed));
  } catch {
    /* full or forbidden */
  }
}

function forget(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    /* forbidden */
  }
}

function quick(form: HTMLFormElement): void {
  const name = form.querySelector<HTMLInputElement>("[name=name]");
  const count = form.querySelector<HTMLInputElement>("[name=count]");
  const changed = () => form.dispatchEvent(new Event("input"));
  const offers = form.querySelector<HTMLElement>("[data-offers]");
  if (offers && name) {
    offers.hidden = false;
    for (const b of offers.querySelectorAll("button")) {
      b.addEventListener("click", () => {
        name.value = b.textContent ?? "";
        changed();
      });
    }
  }
  for (const b of form.querySelectorAll<HTMLButtonElement>("[data-step]")) {
    b.hidden = false;
    b.addEventListener("click", () => {
      if (!count) return;
      count.value = String(Math.min(9999, Math.max(1, (parseInt(count.value, 10) || 0) + Number(b.dataset.step))));
      changed();
    });
  }
  const parent = form.querySelector<HTMLSelectElement>("[name=parent]");
  parent?.addEventListener("change", () => number(form, parent));
  if (parent) number(form, parent);
  if (name && !document.getElementById("error-summary")) name.focus();
}

// The number shown follows the part that this one is of.
function number(form: HTMLFormElement, parent: HTMLSelectElement): void {
  const next = parent.selectedOptions[0]?.dataset.next;
  const shown = document.querySelector<HTMLElement>(".bag[data-of]");
  const sent = form.querySelector<HTMLInputElement>("[name=number]");
  if (!next || !shown || !sent) return;
  sent.value = next;
  shown.textContent = `${shown.dataset.of}.${next}`;
}
