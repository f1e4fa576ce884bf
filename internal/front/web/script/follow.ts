// What goes on at the server, followed without loading the page anew.

// follow hands on what the server says until it has ended; lost is called
// where the connection is cut off, and what went on may go on. The way to
// stop following is given back.
export function follow(at: string, each: (m: Record<string, unknown>) => void, lost?: () => void): () => void {
  const events = new EventSource(at);
  events.onmessage = (e) => {
    const m = JSON.parse(String(e.data)) as Record<string, unknown>;
    if (m.running === false) events.close();
    each(m);
  };
  if (lost) {
    events.onerror = () => {
      events.close();
      lost();
    };
  }
  return () => events.close();
}
