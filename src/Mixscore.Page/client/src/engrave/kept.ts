/** How many first systems are kept: a score in some widths and sizes. */
const most = 24;

/** A browser that does not find it by then, in milliseconds, is not waited for: to engrave takes little longer. */
const patience = 400;

/**
 * First systems as they were engraved before, kept in this browser for the page's own address: shown while the engraver, which
 * takes its second or two, has not begun. A browser that keeps nothing has none.
 */
export class Kept {
  private readonly base: Promise<IDBDatabase | null>;

  constructor() {
    this.base = open().catch(() => null);
  }

  /** The picture that was kept under a key. */
  async find(key: string): Promise<string | null> {
    const found = this.ask('readonly', (all) => all.get(key)) as Promise<{ svg: string } | null | undefined>;
    const late = new Promise<null>((resolve) => setTimeout(() => resolve(null), patience));
    return (await Promise.race([found, late]))?.svg ?? null;
  }

  /** Keeps a picture, and lets go of the oldest where there are too many; false where nothing is kept. */
  async keep(key: string, svg: string): Promise<boolean> {
    if ((await this.ask('readwrite', (all) => all.put({ key, svg, at: Date.now() }))) === null) return false;
    const count = (await this.ask('readonly', (all) => all.count())) ?? 0;
    if (count > most) await this.forget(count - most);
    return true;
  }

  private async forget(count: number): Promise<void> {
    const keys = (await this.ask('readonly', (all) => all.index('at').getAllKeys(null, count))) ?? [];
    for (const key of keys) await this.ask('readwrite', (all) => all.delete(key));
  }

  private async ask<T>(mode: IDBTransactionMode, what: (all: IDBObjectStore) => IDBRequest<T>): Promise<T | null> {
    try {
      const base = await this.base;
      return base && (await done(what(base.transaction('systems', mode).objectStore('systems'))));
    } catch {
      // A store that was cleared or closed meanwhile keeps nothing, and the score is engraved as without it.
      return null;
    }
  }
}

async function open(): Promise<IDBDatabase> {
  const opening = indexedDB.open('engraved', 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('systems', { keyPath: 'key' }).createIndex('at', 'at');
  return done(opening);
}

const done = <T>(request: IDBRequest<T>) =>
  new Promise<T>((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('not kept'));
  });
