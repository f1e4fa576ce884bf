// What the server makes of the sound so far: sentences, and the beats.

let spoken = 0;
let last = "";

// show puts the sentences in their places. A screen reader is told at most
// every ten seconds, and at once when something new begins.
export function show(m: Record<string, unknown>): void {
  const say = String(m.say ?? "");
  put("say", say);
  put("far", String(m.far ?? ""));
  put("clock", String(m.clock ?? ""));
  put("worth", String(m.worth ?? ""));
  const more = document.getElementById("more");
  const lines = Array.isArray(m.more) ? m.more.map(String) : [];
  if (more && lines.join("\n") !== Array.from(more.children, (c) => c.textContent).join("\n")) {
    more.replaceChildren(
      ...lines.map((l) => {
        const li = document.createElement("li");
        li.textContent = l;
        return li;
      }),
    );
    more.hidden = lines.length === 0;
  }
  const wrong = document.getElementById("wrong");
  if (wrong) {
    put("wrong", String(m.wrong ?? ""));
    wrong.hidden = !m.wrong;
  }
  const now = performance.now();
  const key = String(m.state) + String(m.wrong ?? "");
  if (key !== last || now - spoken > 10_000) {
    put("spoken", say + " " + String(m.wrong ?? ""));
    last = key;
    spoken = now;
  }
}

function put(id: string, text: string): void {
  const e = document.getElementById(id);
  if (e && e.textContent !== text) e.textContent = text;
}

// ribbon draws the beats anew.
export async function ribbon(at: string): Promise<void> {
  const place = document.getElementById("ribbon");
  if (!place || at === "" || place.contains(document.activeElement)) return;
  const answer = await fetch(at + "/ribbon", { headers: { Accept: "text/html" } });
  if (!answer.ok) return;
  const parsed = new DOMParser().parseFromString(await answer.text(), "text/html");
  place.replaceChildren(...Array.from(parsed.body.childNodes));
}
