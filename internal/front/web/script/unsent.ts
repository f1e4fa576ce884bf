// Photographs that wait in this browser are sent from the pages of
// photographs; every other page says that they wait.

import { unsentKey } from "./queue";

export function unsent(): void {
  if (document.querySelector("[data-queue]")) return;
  let n = 0;
  try {
    n = Number(localStorage.getItem(unsentKey)) || 0;
  } catch {
    return; // forbidden
  }
  if (n < 1) return;
  const told = document.createElement("aside");
  told.className = "demo-note";
  told.setAttribute("aria-label", "Photographs");
  const a = document.createElement("a");
  a.href = "/photos";
  a.textContent = "Send them now";
  told.append(n === 1 ? "1 photograph is not on the shop’s disk yet. " : `${n} photographs are not on the shop’s disk yet. `, a);
  document.getElementById("main")?.before(told);
}
