import type { BenchValues } from '@/lib/bench/fields';
import type { BenchState, PreparationStyleId } from '@/lib/bench/schema';
import { phrases } from '@/lib/platform/words/say';

export const BENCH_ACTS = ['send-to-review', 'take-back', 'return-with-remarks', 'approve'] as const;
export type BenchAct = (typeof BENCH_ACTS)[number];

/** The one transition table of the bench record; a database check mirrors its states. */
const TRANSITIONS: Readonly<Record<BenchState, Partial<Record<BenchAct, BenchState>>>> = {
  draft: { 'send-to-review': 'in-review' },
  'in-review': { 'take-back': 'draft', 'return-with-remarks': 'returned', approve: 'approved' },
  returned: { 'send-to-review': 'in-review' },
  approved: {},
};

/** The state after an act, or null when the act is not possible in this state. */
export function nextState(state: BenchState, act: BenchAct): BenchState | null {
  return TRANSITIONS[state][act] ?? null;
}

/** What can be done with a record in this state, whoever asks. */
export function actsIn(state: BenchState): BenchAct[] {
  return BENCH_ACTS.filter((act) => nextState(state, act) !== null);
}

/** May fields still be written? A record under review waits; an approved one takes amendments only. */
export function isOpenForEntries(state: BenchState): boolean {
  return state === 'draft' || state === 'returned';
}

export interface Lack {
  id:
    | 'mass'
    | 'sex'
    | 'gonads'
    | 'skull'
    | 'fat'
    | 'moult'
    | 'soft-parts'
    | 'stomach'
    | 'cause-of-death'
    | 'tissues';
  sentence: string;
}

const has = (values: BenchValues, ...fields: (keyof BenchValues)[]): boolean =>
  fields.some((field) => values[field] !== undefined);

const WHOLE_RECORD: readonly (Lack & { filled: (values: BenchValues) => boolean })[] = phrases([
  { id: 'mass', sentence: 'No mass', filled: (values) => has(values, 'massG') },
  { id: 'sex', sentence: 'No sex, not even "undetermined"', filled: (values) => has(values, 'sex') },
  {
    id: 'gonads',
    sentence: 'Nothing said of the gonads, not even that none were found',
    filled: (values) =>
      has(
        values,
        'organsSeen',
        'leftTestis',
        'rightTestis',
        'testis',
        'leftOvary',
        'rightOvary',
        'ovary',
        'ovaryState',
      ),
  },
  {
    id: 'skull',
    sentence: 'Neither skull nor bursa',
    filled: (values) => has(values, 'skullOssificationPct', 'skullRemarks', 'bursa'),
  },
  { id: 'fat', sentence: 'No fat', filled: (values) => has(values, 'fat') },
  {
    id: 'moult',
    sentence: 'No moult, not even "no moult"',
    filled: (values) => has(values, 'moult', 'bodyMoult', 'tailMoult', 'primaryMoult'),
  },
  {
    id: 'soft-parts',
    sentence: 'No colours of soft parts',
    filled: (values) => has(values, 'irisColour', 'billColour', 'upperBillColour', 'legColour'),
  },
  {
    id: 'stomach',
    sentence: 'No stomach contents, not even "empty"',
    filled: (values) => has(values, 'stomachContents'),
  },
  {
    id: 'cause-of-death',
    sentence: 'No cause of death found',
    filled: (values) => has(values, 'causeOfDeathFound', 'trauma'),
  },
  { id: 'tissues', sentence: 'No tissue vial', filled: (values) => has(values, 'tissueVials') },
]);

const SHORT_RECORD: Partial<Record<PreparationStyleId, readonly Lack['id'][]>> = {
  'tissue-only': ['mass', 'sex', 'tissues'],
  discard: ['cause-of-death'],
  fluid: ['mass', 'sex', 'soft-parts', 'tissues'],
};

/**
 * What a label and a catalogue entry usually hold and this record does not yet (Van Tyne 1952; Winker 2000,
 * from memory). It is shown before sending to review and blocks nothing.
 */
export function listLacks(values: BenchValues, styleId: PreparationStyleId): Lack[] {
  const wanted = SHORT_RECORD[styleId];
  return WHOLE_RECORD.filter(({ id }) => !wanted || wanted.includes(id))
    .filter(({ filled }) => !filled(values))
    .map(({ id, sentence }) => ({ id, sentence }));
}
