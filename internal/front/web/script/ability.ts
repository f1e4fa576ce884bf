// What the browser can do here: whether the way is safe, and, after a tap,
// whether it gives the microphone and keeps the screen awake.

export function ability(): void {
  const section = document.querySelector<HTMLElement>("[data-test]");
  if (!section) return;
  const button = section.querySelector<HTMLElement>("[data-try]");
  say(section, "secure", window.isSecureContext ? "yes" : "no");
  if (!window.isSecureContext || !navigator.mediaDevices) {
    say(section, "microphone", "none");
    say(section, "awake", "none");
    return;
  }
  say(section, "microphone", "ask");
  say(section, "awake", "wakeLock" in navigator ? "ask" : "none");
  button?.removeAttribute("hidden");
  button?.addEventListener("click", () => void tryAll(section));
}

async function tryAll(section: HTMLElement): Promise<void> {
  try {
    const stream = await navigator.mediaDevices.getUserMedia({ audio: true });
    for (const track of stream.getTracks()) track.stop();
    say(section, "microphone", "yes");
  } catch {
    say(section, "microphone", "no");
  }
  if (!("wakeLock" in navigator)) return;
  try {
    await (await navigator.wakeLock.request("screen")).release();
    say(section, "awake", "yes");
  } catch {
    say(section, "awake", "no");
  }
}

function say(section: HTMLElement, what: string, answer: string): void {
  const place = section.querySelector<HTMLElement>(`[data-${what}]`);
  if (place) place.textContent = place.dataset[answer] ?? "";
}
