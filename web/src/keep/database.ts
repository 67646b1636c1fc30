// What this device keeps: entries on their way, the last lists seen, steps ticked. IndexedDB; where a browser forbids it,
// memory, and `isLasting` says so.
import { signal } from "@preact/signals";

export type Shelf = "entries" | "seen" | "ticks";
export const isLasting = signal(true);

let opening: Promise<IDBDatabase> | undefined;
const memory = new Map<string, unknown>();

function open(): Promise<IDBDatabase> {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open("barm", 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("entries");
      request.result.createObjectStore("seen");
      request.result.createObjectStore("ticks");
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
  });
  return opening;
}

/// Done once it is on disk, not merely asked for.
async function run<T>(shelf: Shelf, mode: IDBTransactionMode, act: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(shelf, mode, { durability: "strict" });
    const request = act(transaction.objectStore(shelf));
    if (mode === "readwrite") transaction.commit();  // not only once we hear back: the page may be gone by then
    transaction.oncomplete = () => resolve(request.result);
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

export async function put(shelf: Shelf, key: string, value: unknown): Promise<void> {
  try {
    await run(shelf, "readwrite", (store) => store.put(value, key));
  } catch {
    isLasting.value = false;
    memory.set(`${shelf} ${key}`, value);
  }
}

export async function take<T>(shelf: Shelf, key: string): Promise<T | undefined> {
  try {
    return (await run(shelf, "readonly", (store) => store.get(key))) as T | undefined;
  } catch {
    return memory.get(`${shelf} ${key}`) as T | undefined;
  }
}

/// All of a shelf, in the order of their keys.
export async function all<T>(shelf: Shelf): Promise<T[]> {
  const held = [...memory].filter(([key]) => key.startsWith(`${shelf} `)).map(([, value]) => value as T);
  try {
    return [...((await run(shelf, "readonly", (store) => store.getAll())) as T[]), ...held];
  } catch {
    return held;
  }
}

export async function remove(shelf: Shelf, key: string): Promise<void> {
  memory.delete(`${shelf} ${key}`);
  try {
    await run(shelf, "readwrite", (store) => store.delete(key));
  } catch {
    isLasting.value = false;
  }
}
