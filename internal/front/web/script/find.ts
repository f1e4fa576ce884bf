// Find-as-you-type: the list under the box follows the typing. The server
// answers with a fragment; the latest answer wins.

const pause = 120; // ms after the last key

export function find(): void {
  const box = document.querySelector<HTMLInputElement>("input[data-find]");
  if (!box) return;
  const place = document.getElementById("found") ?? document.getElementById("find-panel");
  if (!place) return;
  let timer = 0;
  let latest = 0;
  box.addEventListener("input", () => {
    window.clearTimeout(timer);
    timer = window.setTimeout(() => void ask(box.value, ++latest), pause);
  });
  box.addEventListener("keydown", (e) => {
    if (e.key === "Escape" && place.id === "find-panel") place.replaceChildren();
    if (e.key === "ArrowDown") focusFirst(place, e);
  });

  async function ask(text: string, turn: number): Promise<void> {
    if (text.trim() === "" && place!.id === "find-panel") {
      place!.replaceChildren();
      return;
    }
    const answer = await fetch("/clocks/found?find=" + encodeURIComponent(text), { headers: { Accept: "text/html" } });
    if (!answer.ok || turn !== latest) return;
    const parsed = new DOMParser().parseFromString(await answer.text(), "text/html");
    place!.replaceChildren(...Array.from(parsed.body.childNodes));
  }
}

function focusFirst(place: HTMLElement, e: KeyboardEvent): void {
  const link = place.querySelector<HTMLAnchorElement>("a");
  if (!link) return;
  e.preventDefault();
  link.focus();
}
