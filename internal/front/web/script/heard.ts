// The page of a listening that runs: it follows the server without loading
// anew, and loads once more when the answer is there.

import { follow } from "./follow";
import { ribbon, show } from "./now";

export function heard(): void {
  const place = document.querySelector<HTMLElement>("[data-heard]");
  if (!place) return;
  const at = place.dataset.heard!;
  const bar = place.querySelector("progress");
  let drawn = performance.now();
  follow(at + "/progress", (m) => {
    if (m.running === false) {
      location.reload();
      return;
    }
    show(m);
    if (bar && typeof m.share === "number") bar.value = m.share;
    if (document.getElementById("ribbon") && performance.now() - drawn > 4000) {
      drawn = performance.now();
      void ribbon(at);
    }
  });
}
