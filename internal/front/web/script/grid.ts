// Entry grids: Enter goes down a column, Shift+Enter up; a copied column or
// table is spread over the cells from the one it is pasted into.

export function grids(): void {
  for (const grid of document.querySelectorAll<HTMLTableElement>("table[data-grid]")) {
    grid.addEventListener("keydown", (e) => step(grid, e));
    grid.addEventListener("paste", (e) => spread(grid, e));
  }
}

function cells(grid: HTMLTableElement): HTMLInputElement[][] {
  return Array.from(grid.tBodies[0]?.rows ?? []).map((row) => Array.from(row.cells, (c) => c.querySelector("input")!));
}

function place(grid: HTMLTableElement, target: EventTarget | null): [number, number] | null {
  const rows = cells(grid);
  for (let r = 0; r < rows.length; r++) {
    const c = rows[r].findIndex((x) => x !== null && x === target);
    if (c >= 0) return [r, c];
  }
  return null;
}

function step(grid: HTMLTableElement, e: KeyboardEvent): void {
  if (e.key !== "Enter" || e.ctrlKey || e.metaKey) return;
  const at = place(grid, e.target);
  if (!at) return;
  const next = cells(grid)[at[0] + (e.shiftKey ? -1 : 1)]?.[at[1]];
  if (!next) return; // Enter in the last row saves, as in any form
  e.preventDefault();
  next.focus();
  next.select();
}

function spread(grid: HTMLTableElement, e: ClipboardEvent): void {
  const text = e.clipboardData?.getData("text/plain") ?? "";
  const at = place(grid, e.target);
  if (!at || !/[\t\n]/.test(text.trim())) return;
  e.preventDefault();
  const rows = cells(grid);
  text.replace(/\r/g, "").replace(/\n+$/, "").split("\n").forEach((line, i) => {
    line.split("\t").forEach((value, j) => {
      const cell = rows[at[0] + i]?.[at[1] + j];
      if (cell) cell.value = value.trim();
    });
  });
}
