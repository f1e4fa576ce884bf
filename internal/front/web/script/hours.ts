// The hours in the frame of every page: begun and stopped without leaving the
// page, so that nothing typed in it is lost; counted on between looks; looked
// at again when the page is shown, for another device may have stopped them.

const often = 30_000; // ms between looks

let told = 0; // performance.now() of the last word of the server

export function hours(): void {
  if (!strip()) return;
  told = performance.now();
  document.addEventListener("submit", (e) => {
    const form = e.target as HTMLFormElement;
    if (!form.closest("[data-work]")) return;
    e.preventDefault();
    void send(form);
  });
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) void look();
  });
  window.setInterval(count, 5_000);
  window.setInterval(() => {
    if (!document.hidden) void look();
  }, often);
}

function strip(): HTMLElement | null {
  return document.querySelector<HTMLElement>("[data-work]");
}

// send asks the server for what the button says; where it does not answer the
// form goes the way it would without script.
async function send(form: HTMLFormElement): Promise<void> {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form)) body.append(name, String(value));
  body.append("part", "yes");
  try {
    const answer = await fetch(form.action, { method: "POST", body });
    if (!answer.ok) throw new Error(String(answer.status));
    put(await answer.text(), true);
  } catch {
    form.submit();
  }
}

async function look(): Promise<void> {
  const now = strip();
  if (!now) return;
  const at = new URLSearchParams({ page: now.dataset.page ?? "", back: now.dataset.back ?? "/" });
  try {
    const answer = await fetch("/hours/strip?" + at.toString(), { headers: { Accept: "text/html" } });
    if (answer.ok) put(await answer.text(), false);
  } catch {
    // the network is down: the count goes on
  }
}

// put sets what the server says in the strip's place; a look does not take it
// from under somebody's hand, or take the last answer away.
function put(text: string, asked: boolean): void {
  const now = strip();
  const next = new DOMParser().parseFromString(text, "text/html").querySelector<HTMLElement>("[data-work]");
  if (!now || !next) return;
  told = performance.now();
  const held = now.contains(document.activeElement);
  if (!asked && (held || same(now, next))) {
    const since = next.querySelector<HTMLElement>("[data-since]");
    const was = now.querySelector<HTMLElement>("[data-since]");
    if (since && was) was.dataset.since = since.dataset.since;
    return;
  }
  now.replaceChildren(...Array.from(next.childNodes));
  if (held) now.querySelector<HTMLElement>("button")?.focus();
}

// same tells whether both offer the same to do.
function same(a: HTMLElement, b: HTMLElement): boolean {
  const deeds = (e: HTMLElement) => Array.from(e.querySelectorAll<HTMLInputElement>("form,[name=clock],[name=n]"), (x) => x.getAttribute("action") ?? x.value).join();
  return deeds(a) === deeds(b);
}

// count shows how long it runs by now.
function count(): void {
  const e = document.querySelector<HTMLElement>("[data-since]");
  if (!e) return;
  const minutes = Math.round((Number(e.dataset.since) + performance.now() - told) / 60_000);
  const words = `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
  if (e.textContent !== words) e.textContent = words;
}
