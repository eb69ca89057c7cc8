/** The engraver at work, and the score that is on its way to it. */
export interface Engraving {
  worker: Worker;
  xml: Promise<string>;
}
