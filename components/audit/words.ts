import { sayWord } from '@/components/ui/words';
import type { HistoryEvent } from '@/lib/audit/schema';

type Payload = Record<string, unknown>;
const text = (payload: Payload, key: string): string => String(payload[key] ?? '');
const listed = (payload: Payload, key: string): string =>
  Array.isArray(payload[key]) ? payload[key].join(', ') : '';

/** How a step was done: its method and temperature, where noted. */
const how = (payload: Payload): string =>
  [payload.method, typeof payload.temperatureC === 'number' ? `${payload.temperatureC} °C` : null]
    .filter(Boolean)
    .map((part) => `, ${part}`)
    .join('');

/** What was done, to follow the person's name. A kind without a sentence of its own reads as its words. */
const SENTENCES: Record<string, (payload: Payload) => string> = {
  'accessions.made': (p) => `made accession ${text(p, 'number')} of ${listed(p, 'lots')}`,
  'accessions.lot-added': (p) => `put it into accession ${text(p, 'accession')}`,
  'accessions.changed': () => 'corrected the accession',
  'storage.material-made': (p) => `made ${text(p, 'material')}, ${text(p, 'kind')}`,
  'storage.material-moved': (p) =>
    p.to === null
      ? `took ${text(p, 'material')} from ${text(p, 'from')}`
      : `put ${text(p, 'material')} into ${text(p, 'to')}${p.from === null ? '' : `, from ${text(p, 'from')}`}`,
  'storage.custody-changed': (p) => `noted ${text(p, 'material')} as ${sayWord(text(p, 'to')).toLowerCase()}`,
  'catalogue.returned': () => 'sent it back from the review desk',
  'catalogue.approved': (p) => `gave it the catalogue number ${text(p, 'catalogueNumber')}`,
  'catalogue.amended': (p) => `amended ${sayWord(text(p, 'field')).toLowerCase()}`,
  'catalogue.determined': (p) => `noted that ${text(p, 'by')} identified it as ${text(p, 'to')}`,
  'catalogue.deaccessioned': (p) =>
    `deaccessioned ${text(p, 'material')} (${text(p, 'method')}; ${text(p, 'authority')}, ${text(p, 'document')})`,
  'loans.asked': (p) => `asked for ${listed(p, 'materials')} for ${text(p, 'borrower')}`,
  'loans.taken-into-review': () => 'took the request into review',
  'loans.documents-set': () => 'noted the papers of the parcel',
  'loans.sent': (p) => `sent it on ${text(p, 'on')}, due back on ${text(p, 'dueOn')}`,
  'loans.received': (p) => `noted that it arrived on ${text(p, 'on')}`,
  'loans.lines-settled': (p) => `settled lines: ${text(p, 'balance')}`,
  'loans.extended': (p) => `extended it from ${text(p, 'from')} to ${text(p, 'to')}`,
  'loans.reminded': (p) =>
    p.kind === 'overdue'
      ? `reminded: ${text(p, 'days')} days overdue`
      : `reminded: due in ${text(p, 'days')} days`,
  'loans.material-sent': (p) =>
    `sent ${text(p, 'material')} to ${text(p, 'borrower')} on loan ${text(p, 'loan')}`,
  'loans.material-settled': (p) =>
    `noted ${text(p, 'material')} of loan ${text(p, 'loan')} as ${text(p, 'outcome')}`,
  'reports.opened': (p) => `opened edition ${text(p, 'edition')}`,
  'reports.explained': (p) => `explained “${text(p, 'warning')}”: ${text(p, 'text')}`,
  'reports.made-ready': () => 'marked it as ready to sign',
  'reports.signed': (p) => `signed it: ${text(p, 'birds')} birds, ${text(p, 'onHand')} on hand`,
  'reports.amended': (p) => `opened edition ${text(p, 'edition')} to replace edition ${text(p, 'replaces')}`,
  'skeletons.book-saved': (p) =>
    `wrote in the bone book${p.balanced === true ? '; every bone is somewhere, once' : ''}`,
  'skeletons.procedure-chosen': (p) =>
    `set ${text(p, 'material')} on ${text(p, 'procedure')}, at “${text(p, 'step')}”`,
  'skeletons.step-begun': (p) => `moved ${text(p, 'material')} on: ${text(p, 'to')}${how(p)}`,
  'skeletons.shelved': (p) => `put ${text(p, 'material')} on the shelf`,
  'skeletons.box-counted': (p) =>
    `counted ${text(p, 'pieces')} pieces of ${text(p, 'material')}; ${
      listed(p, 'questions') === '' ? 'they agree with the book' : listed(p, 'questions')
    }`,
  'skeletons.question-answered': (p) => `answered “${text(p, 'question')}”: ${text(p, 'answer')}`,
  'skeletons.procedures-changed': (p) => `changed the cleaning procedures: ${listed(p, 'procedures')}`,
  'skins.moved-on': (p) =>
    `moved ${text(p, 'material')} on: ${sayWord(text(p, 'to')).toLowerCase()}${how(p)}`,
  'people.roles-changed': (p) =>
    `changed the roles of ${text(p, 'person')} from ${listed(p, 'from') || 'none'} to ${listed(p, 'to')}`,
};

export function sayEvent(event: HistoryEvent): string {
  const sentence = SENTENCES[event.kind];
  if (sentence !== undefined) return sentence(event.payload);
  const [, act = event.kind] = event.kind.split('.');
  return `${sayWord(act).toLowerCase()}`;
}

const sayValue = (value: unknown): string | null => {
  if (value === null || value === undefined || value === '') return null;
  if (typeof value === 'object') return JSON.stringify(value);
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value);
};

/** Field differences of an event, each with a readable label. */
export function sayChanges(event: HistoryEvent): { label: string; from: string | null; to: string | null }[] {
  const { changes } = event.payload;
  if (typeof changes !== 'object' || changes === null) return [];
  return Object.entries(changes as Record<string, { from?: unknown; to?: unknown }>).map(
    ([field, { from, to }]) => ({
      label: sayWord(field.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase()),
      from: sayValue(from),
      to: sayValue(to),
    }),
  );
}
