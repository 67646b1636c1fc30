// The time, told anew every half minute; every second while a timer runs.
import { signal } from "@preact/signals";

export const now = signal(Date.now());
export const seconds = signal(Date.now());
setInterval(() => { now.value = Date.now(); }, 30_000);
setInterval(() => { seconds.value = Date.now(); }, 1000);
document.addEventListener("visibilitychange", () => { now.value = seconds.value = Date.now(); });
