/** What became of an entry, out of the server's words for it ("undone by 9"). */
export interface EntryFate {
  kind: 'holds' | 'undone' | 'corrected' | 'corrects' | 'damaged' | 'other';
  other: number; // the entry that is named; 0: none
}

export function fate_of(text: string | null): EntryFate {
  if (!text) return { kind: 'holds', other: 0 };
  const other = Number(/\d+/.exec(text)?.[0] ?? 0);
  if (text.startsWith('damaged')) return { kind: 'damaged', other: 0 };
  // "corrects 3, which is undone" and the like say more than a word of ours would.
  if (!/^[a-z]+ (by )?\d+$/.test(text)) return { kind: 'other', other };
  if (text.startsWith('undone by')) return { kind: 'undone', other };
  if (text.startsWith('corrected by')) return { kind: 'corrected', other };
  if (text.startsWith('corrects')) return { kind: 'corrects', other };
  return { kind: 'other', other };
}
