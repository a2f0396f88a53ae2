import { AGES } from '@/lib/bench/schema';
import type { QueryTerm } from '@/lib/catalogue/query/schema';
import { REVIEW_STATES, SEXES } from '@/lib/catalogue/schema';
import { LOAN_STATES } from '@/lib/loans/schema';
import { MONTH_NAMES } from '@/lib/platform/say-dates';
import { phrases, sayWord, wordOf } from '@/lib/platform/words/say';
import { CARCASS_STATES, CUSTODY_STATES, MATERIAL_KINDS, PREPARATION_STYLES } from '@/lib/queue/schema';
import { ELEMENT_IDS, ELEMENTS } from '@/lib/skeletons/elements';
import { SKELETON_STATES } from '@/lib/skeletons/rules/cleaning';
import { SKIN_STATES } from '@/lib/skins/schema';
import { tissueKinds } from '@/lib/tissues/schema';

export type FieldName = QueryTerm['field'];
export type Choice = { value: string; label: string };

/** How a field is asked: several of a list, names as people write them, one text, days, or a control of its own. */
type Ask =
  | { by: 'list'; choices: readonly Choice[] }
  | { by: 'names'; suggestions: readonly string[]; example: string }
  | { by: 'text'; example: string }
  | { by: 'days' | 'quality' | 'bones' };

const words = (list: readonly string[]): Choice[] =>
  [...new Set(list)].map((value) => ({ value, label: wordOf(value) }));
const list = (values: readonly string[]): Ask => ({ by: 'list', choices: words(values) });
const names = (example: string, suggestions: readonly string[] = []): Ask => ({
  by: 'names',
  suggestions,
  example,
});

/** Where a bird or one of its materials may be. */
const STAGES = [
  ...CARCASS_STATES,
  ...REVIEW_STATES.filter((state) => state === 'in-review' || state === 'returned'),
  'catalogued',
  'deaccessioned',
  ...SKIN_STATES,
  ...SKELETON_STATES,
];

/** A name is read when it is shown, in the reader's language. */
const monthChoices = (): Choice[] =>
  Object.keys(MONTH_NAMES).map((at) => ({
    value: String(Number(at) + 1),
    get label() {
      return MONTH_NAMES[Number(at)] ?? at;
    },
  }));

/** Every field of the search, in the order that the builder offers them. */
export const BUILDER_FIELDS: Record<FieldName, { label: string; ask: Ask }> = phrases({
  taxon: { label: 'Taxon', ask: names('order, family, genus, species or common name') },
  stage: { label: 'Where it is', ask: list(STAGES) },
  material: { label: 'Material', ask: list(MATERIAL_KINDS) },
  bones: { label: 'Bones kept', ask: { by: 'bones' } },
  sex: { label: 'Sex', ask: list(SEXES) },
  age: { label: 'Age', ask: list(AGES) },
  month: {
    label: 'Month found',
    ask: { by: 'list', choices: monthChoices() },
  },
  found: { label: 'Found', ask: { by: 'days' } },
  county: { label: 'County', ask: names('the county’s whole name') },
  place: { label: 'Place', ask: names('a country, state, county or locality') },
  permit: { label: 'Permit', ask: names('a number or an authority') },
  preparator: { label: 'Preparator', ask: names('a name') },
  person: { label: 'Anybody who worked on it', ask: names('a name') },
  finder: { label: 'Finder', ask: names('a name') },
  tissue: { label: 'Tissue', ask: list(tissueKinds) },
  quality: { label: 'Tissue quality', ask: { by: 'quality' } },
  loan: { label: 'Loan', ask: names('a number, a borrower or a state', LOAN_STATES) },
  custody: { label: 'Custody', ask: list(CUSTODY_STATES) },
  style: { label: 'Preparation', ask: list(PREPARATION_STYLES) },
  warning: { label: 'Warning', ask: names('a word of the warning') },
  received: { label: 'Received', ask: { by: 'days' } },
  prepared: { label: 'Prepared', ask: { by: 'days' } },
  catalogued: { label: 'Catalogued', ask: { by: 'days' } },
  number: { label: 'Number', ask: { by: 'text', example: 'of the bird, a material or a vial' } },
  words: { label: 'Words', ask: { by: 'text', example: 'in names, places and what was said of the find' } },
  within: { label: 'Box of the map', ask: { by: 'text', example: '40.1..40.2/-82.7..-82.6' } },
});

export const boneChoices = (): Choice[] =>
  ELEMENT_IDS.map((id) => ({ value: id, label: sayWord(ELEMENTS[id].name) }));
