/** How the engineer likes the page; kept in this browser. */
export class Look {
  theme = $state<'dark' | 'light'>('dark');
  zoom = $state(1);
  endless = $state(false);
  follow = $state(true);
  /** Whether marks can be taken. */
  editing = $state(false);
  /** Names of sources that are folded away. */
  folded = $state<string[]>([]);
  /** Whether this browser keeps first systems that were engraved. */
  systems = false;

  constructor(private readonly name: string) {
    try {
      const kept = JSON.parse(localStorage.getItem(name) ?? '{}') as Partial<Look>;
      this.theme = kept.theme ?? (matchMedia('(prefers-color-scheme: light)').matches ? 'light' : 'dark');
      // On a low screen a system and its level lines are to be seen together.
      this.zoom = kept.zoom ?? (innerHeight < 900 ? 0.8 : 1);
      this.endless = kept.endless ?? false;
      this.folded = kept.folded ?? [];
      this.editing = kept.editing ?? false;
      this.systems = kept.systems ?? false;
    } catch {
      // A browser that keeps nothing begins anew each time.
    }
  }

  keep(): void {
    const { theme, zoom, endless, folded, editing, systems } = this;
    try {
      localStorage.setItem(this.name, JSON.stringify({ theme, zoom, endless, folded, editing, systems }));
    } catch {
      // As above.
    }
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
