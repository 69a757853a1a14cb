// What this phone keeps: what was typed and not yet sent, and the last the laptop said. IndexedDB, because it
// works without a trusted address and outlives the tab.

const NAME = "sillwright";
const STORES = {
  outbox: { keyPath: "n", autoIncrement: true }, // events and photos in the order they were made
  jobs: { keyPath: "job" },
  screens: { keyPath: "key" },
  whys: { keyPath: "job" },
  meta: { keyPath: "name" },
};

let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      for (const [name, options] of Object.entries(STORES)) request.result.createObjectStore(name, options);
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
  });
  return opened;
}

/** Runs one transaction; resolves with what `work` asked for once it is on the disk. */
async function transact(store, mode, work) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(store, mode, { durability: "strict" });
    const request = work(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onabort = () => reject(transaction.error);
    transaction.onerror = () => reject(transaction.error);
  });
}

export const get = (store, key) => transact(store, "readonly", (box) => box.get(key));
export const all = (store) => transact(store, "readonly", (box) => box.getAll());
export const put = (store, value) => transact(store, "readwrite", (box) => box.put(value));
export const add = (store, value) => transact(store, "readwrite", (box) => box.add(value));
export const remove = (store, key) => transact(store, "readwrite", (box) => box.delete(key));

export const putMany = (store, values) =>
  transact(store, "readwrite", (box) => {
    for (const value of values) box.put(value);
  });
export const removeMany = (store, keys) =>
  transact(store, "readwrite", (box) => {
    for (const key of keys) box.delete(key);
  });

export async function note(name, value) {
  await put("meta", { name, value });
}
export async function noted(name, otherwise) {
  return (await get("meta", name))?.value ?? otherwise;
}
