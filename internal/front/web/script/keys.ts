// Single keys: "/" goes to the find box, "?" opens the list of keys. They can
// be turned off in that list (WCAG 2.1.4) and never act while one types.

const setting = "seatboard-keys";

export function keys(): void {
  const dialog = document.getElementById("keys") as HTMLDialogElement | null;
  const off = dialog?.querySelector<HTMLInputElement>("input[data-keys-off]");
  if (off) {
    off.checked = localStorage.getItem(setting) === "off";
    off.addEventListener("change", () => localStorage.setItem(setting, off.checked ? "off" : "on"));
  }
  document.addEventListener("keydown", (e) => {
    if (e.defaultPrevented || e.ctrlKey || e.metaKey || e.altKey || typing(e.target) || localStorage.getItem(setting) === "off") return;
    if (e.key === "?" && dialog && !dialog.open) {
      e.preventDefault();
      dialog.showModal();
    }
    if (e.key === "/") {
      const box = document.querySelector<HTMLInputElement>("input[data-find]");
      if (!box) return;
      e.preventDefault();
      box.focus();
      box.select();
    }
  });
}

function typing(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement && target.type === "checkbox") return false;
  return target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName));
}
