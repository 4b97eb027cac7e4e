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

/** Why a transaction that writes was not written: it had to give way to a hurried one. Reading is done again instead. */
export class GaveWay extends Error {
  override readonly name = 'GaveWay';
}

export interface Transactions {
  readonly inTransaction: InTransaction;
  /**
   * Writes at once, for a page that may be about to die: what this page has under way gives way, since a browser takes
   * back transactions that wait for others when their page dies.
   */
  readonly inHaste: (work: (store: IDBObjectStore) => void) => Promise<void>;
}

/** Transactions on a database of this browser, which is opened with the first of them. */
export function openTransactions(databaseName: string, storeName: string): Transactions {
  let opened: UseStore | undefined;
  const underWay = new Map<IDBTransaction, { gaveWay: boolean }>();

  const inTransaction: InTransaction = async (mode, work) => {
    const state = { gaveWay: false };
    try {
      if (typeof indexedDB === 'undefined') throw new ReferenceError('indexedDB');
      opened ??= createStore(databaseName, storeName);
      return await opened(mode, (store) => {
        underWay.set(store.transaction, state);
        return whole(store, work).finally(() => underWay.delete(store.transaction));
      });
    } catch (error) {
      if (state.gaveWay && mode === 'readonly') return inTransaction(mode, work);
      if (state.gaveWay) throw new GaveWay('a hurried transaction went before');
      // A connection that the browser has closed is opened afresh the next time.
      opened = undefined;
      throw storageProblem(error);
    }
  };

  const inHaste: Transactions['inHaste'] = (work) =>
    inTransaction('readwrite', (store) => {
      for (const [transaction, state] of underWay) {
        if (transaction !== store.transaction) state.gaveWay = abort(transaction);
      }
      work(store);
      store.transaction.commit?.();
    });

  return { inTransaction, inHaste };
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

/** False where it has ended by itself, or is being written already. */
function abort(transaction: IDBTransaction): boolean {
  try {
    transaction.abort();
    return true;
  } catch {
    return false;
  }
}
