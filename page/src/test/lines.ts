/** Lines of the test: which comes next, what was read last, how many. */
import type { Test, TestLine } from '../api/types';

export const next_of = (test: Test): TestLine | null => test.lines.find((one) => one.state === 'next') ?? null;

const planned = (test: Test): TestLine[] => test.lines.filter((one) => one.number > 0);
export const planned_count = (test: Test): number => planned(test).length;
export const done_count = (test: Test): number => planned(test).filter((one) => one.state === 'done').length;
/** Beyond their limit, by whatever rule. */
export const failed_count = (test: Test): number =>
  test.lines.filter((one) => one.verdict === 'fail' || one.verdict === 'conditional_fail').length;

/** The plan is walked in its order: what stands before the next one was read last. */
export function last_of(test: Test): TestLine | null {
  const at = test.lines.findIndex((one) => one.state === 'next');
  const before = (at < 0 ? planned(test) : test.lines.slice(0, at)).filter((one) => one.state === 'done');
  return before.at(-1) ?? null;
}
