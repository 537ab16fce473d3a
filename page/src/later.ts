/** Views that are not the first: a piece of their own each. */
export const load_more = () => import('./More.svelte');
export const load_test = () => import('./test/TestView.svelte');
export const load_journal = () => import('./JournalView.svelte');

export async function load_later_views(): Promise<void> {
  await Promise.all([load_more(), load_journal(), load_test()]);
}
