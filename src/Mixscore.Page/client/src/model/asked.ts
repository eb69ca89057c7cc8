/** What was asked for last, which counts until the server has had the time to tell of it. */
export class Asked {
  private static readonly keeps = 400;
  private value = 0;
  private until = -Infinity;

  /** @param time The page's clock, in milliseconds. */
  constructor(private readonly time: () => number = () => performance.now()) {}

  /** What was asked for, or what is. */
  or(is: number): number {
    return this.time() < this.until ? this.value : is;
  }

  /** Asks for it. */
  ask(value: number): number {
    [this.value, this.until] = [value, this.time() + Asked.keeps];
    return value;
  }

  /** Something else was done since. */
  forget(): void {
    this.until = -Infinity;
  }
}
