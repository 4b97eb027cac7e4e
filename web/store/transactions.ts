import { createStore, promisifyRequest, type UseStore } from 'idb-keyval';
import { storageProblem } from './storageProblem.js';

/**
 * Runs `work` in one transaction and resolves when that is complete, which is when the browser holds what was
 * written. Where `work` fails nothing of it is written.
 *
 * @throws StorageProblem (as a rejection) whatever the browser's reason was
 */
export type InTransaction = <T>(
  mode: IDBTransactionMode,
  work: (store: IDBObjectStore) => Promise<T> | T,
) => Promise<T>;

/** Transactions on a database of this browser, which is opened with the first of them. */
export function openTransactions(databaseName: string, storeName: string): InTransaction {
  let opened: UseStore | undefined;
  return async (mode, work) => {
    try {
      if (typeof indexedDB === 'undefined') throw new ReferenceError('indexedDB');
      opened ??= createStore(databaseName, storeName);
      return await opened(mode, (store) => whole(store, work));
    } catch (error) {
      // A connection that the browser has closed is opened afresh the next time.
      opened = undefined;
      throw storageProblem(error);
    }
  };
}

async function whole<T>(store: IDBObjectStore, work: (store: IDBObjectStore) => Promise<T> | T): Promise<T> {
  const complete = promisifyRequest(store.transaction);
  // An abort reaches the caller by `work` where that fails first.
  complete.catch(() => {});
  let result: T;
  try {
    result = await work(store);
  } catch (error) {
    if (store.transaction.error === null) abort(store.transaction);
    throw error;
  }
  await complete;
  return result;
}

function abort(transaction: IDBTransaction): void {
  try {
    transaction.abort();
  } catch {
    // It has ended by itself.
  }
}
