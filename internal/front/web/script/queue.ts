// The photographs that are not on the shop's computer yet, as the browser
// keeps them: through a reload and a dead network, but no longer than the
// browser likes. Where it keeps nothing they live as long as the page.

export interface Place {
  clock: string; // "" is the tray
  part: string;
  stage: string;
  area: string;
  same: string; // UID of the photograph that shows the same
  words: string; // of the clock, for people
}

export interface Shot {
  id: string; // 32 hexadecimal digits, the same for every try
  name: string;
  added: number; // ms since 1970
  file: Blob;
  sum: string; // SHA-256, "" until it is reckoned
  at: Place;
}

const store = "shots";
export const unsentKey = "seatboard-unsent"; // how many wait, for other pages

export class Queue {
  private constructor(private db: IDBDatabase | null) {}

  static async open(): Promise<Queue> {
    try {
      const r = indexedDB.open("seatboard-photographs", 1);
      r.onupgradeneeded = () => r.result.createObjectStore(store, { keyPath: "id" });
      return new Queue(await done(r));
    } catch {
      return new Queue(null);
    }
  }

  // all lists what waits, the oldest first.
  async all(): Promise<Shot[]> {
    if (!this.db) return [];
    const found: Shot[] = await done(this.db.transaction(store).objectStore(store).getAll());
    return found.sort((a, b) => a.added - b.added);
  }

  // put keeps one and tells whether the browser did.
  put(s: Shot): Promise<boolean> {
    return this.write((o) => o.put(s));
  }

  drop(id: string): Promise<boolean> {
    return this.write((o) => o.delete(id));
  }

  private async write(what: (o: IDBObjectStore) => void): Promise<boolean> {
    if (!this.db) return false;
    try {
      const t = this.db.transaction(store, "readwrite");
      what(t.objectStore(store));
      await new Promise((ok, bad) => {
        t.oncomplete = ok;
        t.onerror = t.onabort = bad;
      });
      return true;
    } catch {
      return false; // full or forbidden
    }
  }
}

function done<T>(r: IDBRequest<T>): Promise<T> {
  return new Promise((ok, bad) => {
    r.onsuccess = () => ok(r.result);
    r.onerror = () => bad(r.error);
  });
}

export function newID(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, "0")).join("");
}
