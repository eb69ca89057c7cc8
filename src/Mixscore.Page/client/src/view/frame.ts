/**
 * Does something in a task of its own after the next picture was drawn: what is put on a page bit by bit so is laid out bit by
 * bit, also where the processor is wanted by others and timers would run before the page is drawn.
 *
 * @returns Calls it off.
 */
export function afterFrame(what: () => void): () => void {
  let timer = 0;
  const frame = requestAnimationFrame(() => (timer = setTimeout(what)));
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
  };
}
