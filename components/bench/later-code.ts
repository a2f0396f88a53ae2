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
 * The schemas of answers to the bench record: the page begins with the server's own record, and to make them keeps the
 * thread that draws it for some 50 ms. They come before the first answer does: a build that was put in place since has
 * them no more.
 */
export const answers = whenNeeded(() => import('@/lib/bench/wire'));

export const answerOf =
  <Name extends 'benchRecord' | 'writeAnswer' | 'colleagues' | 'entryHistory'>(name: Name) =>
  async () =>
    (await answers.come())[name];
