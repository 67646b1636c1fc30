// Where the reader is: the part of the address behind "#/". It never reaches a server, so that every page opens offline.
import { signal } from "@preact/signals";

export interface Route {
  page: string;     // "plan"
  rest: string[];   // what stands behind it
}

function current(): Route {
  const [page = "", ...rest] = location.hash.replace(/^#\/?/, "").split("/");
  return { page, rest: rest.map((part) => { try { return decodeURIComponent(part); } catch { return part; } }) };
}

export const route = signal<Route>(current());
addEventListener("hashchange", () => {
  route.value = current();
  scrollTo(0, 0);
});

export function go(path: string): void {
  location.hash = `#/${path}`;
  route.value = current();  // the browser tells of it only later
}
/// The same page under another address: no new entry in the browser's history.
export function become(path: string): void {
  history.replaceState(null, "", `#/${path}`);
  route.value = current();
}
