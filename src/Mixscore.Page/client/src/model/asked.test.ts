import { expect, test } from 'vitest';
import { Asked } from './asked';

test('steps add up until the server has told of them', () => {
  let now = 0;
  const asked = new Asked(() => now);
  for (let step = 1; step <= 3; step++) expect(asked.ask(asked.or(-6) + 1)).toBe(-6 + step);
  now = 399;
  expect(asked.or(-6)).toBe(-3);
  now = 400;
  expect(asked.or(-6)).toBe(-6);
});

test('what was done otherwise since ends it', () => {
  const asked = new Asked(() => 0);
  asked.ask(0);
  asked.forget();
  expect(asked.or(-12)).toBe(-12);
});
