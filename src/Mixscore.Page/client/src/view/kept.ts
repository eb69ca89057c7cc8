/** What this browser keeps of how its engineer likes the page. */
export interface Kept {
  theme: 'dark' | 'light';
  zoom: number;
  endless: boolean;
  editing: boolean;
  /** Names of sources that are folded away. */
  folded: string[];
  /** Whether first systems that were engraved are kept. */
  systems: boolean;
}

const name = 'mixscore';

/** Nothing where a browser keeps nothing: it begins anew each time. */
export function kept(): Partial<Kept> {
  try {
    return JSON.parse(localStorage.getItem(name) ?? '{}') as Partial<Kept>;
  } catch {
    return {};
  }
}

export function keep(what: Kept): void {
  try {
    localStorage.setItem(name, JSON.stringify(what));
  } catch {
    // As above.
  }
}
