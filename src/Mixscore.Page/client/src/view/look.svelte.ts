import { keep, kept, type Kept } from './kept';

/** How the engineer likes the page; kept in this browser. */
export class Look implements Kept {
  theme = $state<'dark' | 'light'>('dark');
  zoom = $state(1);
  endless = $state(false);
  follow = $state(true);
  /** Whether marks can be taken. */
  editing = $state(false);
  folded = $state<string[]>([]);
  systems = false;

  constructor() {
    const before = kept();
    this.theme = before.theme ?? (matchMedia('(prefers-color-scheme: light)').matches ? 'light' : 'dark');
    // On a low screen a system and its level lines are to be seen together.
    this.zoom = before.zoom ?? (innerHeight < 900 ? 0.8 : 1);
    this.endless = before.endless ?? false;
    this.folded = before.folded ?? [];
    this.editing = before.editing ?? false;
    this.systems = before.systems ?? false;
  }

  keep(): void {
    const { theme, zoom, endless, folded, editing, systems } = this;
    keep({ theme, zoom, endless, folded, editing, systems });
  }

  keepsSystems(): void {
    this.systems = true;
    this.keep();
  }

  enlarge(by: number): void {
    this.zoom = Math.max(0.5, Math.min(2, Math.round((this.zoom + by) * 10) / 10));
  }

  fold(names: string[], away: boolean): void {
    this.folded = away ? [...new Set([...this.folded, ...names])] : this.folded.filter((name) => !names.includes(name));
  }
}
