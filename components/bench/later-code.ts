import { whenNeeded } from '@/components/ui/later';

/** What reads the words at the bench: the dictation line with what it offers and shows, and the fields of the record. */
export const grammar = whenNeeded(async () => {
  const [{ parseDictation }, { suggestNext }, { readFieldText }, { DictationPreview }] = await Promise.all([
    import('@/lib/bench/dictation/parse'),
    import('@/lib/bench/dictation/suggest'),
    import('@/lib/bench/dictation/read-field'),
    import('./dictation-preview'),
  ]);
  return { parseDictation, suggestNext, readFieldText, DictationPreview };
});
export type Grammar = NonNullable<ReturnType<typeof grammar.now>>;

/** What judges the record's values. Until it is there, what the server said of them stands. */
export const judging = whenNeeded(async () => (await import('@/lib/bench/judged')).judgeRecord);

/**
 * The schema of an answer to the bench record: the page begins with the server's own record, and the first answer that
 * must be read comes later. To make the schemas keeps the thread that draws the page for some 50 ms.
 */
export const answerOf =
  <Name extends 'benchRecord' | 'writeAnswer' | 'colleagues' | 'entryHistory'>(name: Name) =>
  async () =>
    (await import('@/lib/bench/wire'))[name];
