// Letting a phone in: both screens wait for the other, and the phone takes the
// code out of the address that the picture led it to. The part of an address
// after # is never sent, so that no log has it.

const often = 1_000; // ms between looks

export function pairing(): void {
  watch();
  window.addEventListener("hashchange", take);
  take();
}

// watch loads the page anew when the step that it shows is over.
function watch(): void {
  const section = document.querySelector<HTMLElement>("[data-watch]");
  if (!section) return;
  const look = async (): Promise<void> => {
    try {
      const answer = await fetch(section.dataset.watch ?? "");
      if (answer.ok && (await answer.text()) !== section.dataset.step) {
        window.location.reload();
        return;
      }
    } catch {
      // the network is down: it is tried again
    }
    window.setTimeout(() => void look(), often);
  };
  window.setTimeout(() => void look(), often);
}

function take(): void {
  const box = document.querySelector<HTMLInputElement>("[data-code-field] input");
  const token = window.location.hash.slice(1);
  if (!box || !/^[A-Z2-7]{26}$/.test(token)) return;
  box.value = token;
  document.querySelector("[data-code-field]")?.setAttribute("hidden", "");
  document.querySelector("[data-code-taken]")?.removeAttribute("hidden");
  history.replaceState(null, "", window.location.pathname);
  document.querySelector<HTMLInputElement>("#f-name")?.focus();
}
