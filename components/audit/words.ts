import { sayWord } from '@/components/ui/words';
import type { HistoryEvent } from '@/lib/audit/schema';

type Payload = Record<string, unknown>;
const text = (payload: Payload, key: string): string => String(payload[key] ?? '');
const listed = (payload: Payload, key: string): string =>
  Array.isArray(payload[key]) ? payload[key].join(', ') : '';

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
  'bench.started': (p) => `began preparation ${text(p, 'prepNumber')}: ${text(p, 'style').toLowerCase()}`,
  'bench.values-written': () => 'wrote at the bench',
  'bench.values-kept-as-earlier': () => 'had written before somebody else; kept as an earlier value',
  'bench.change-undone': () => 'took a change back',
  'bench.step-marked': (p) =>
    `marked “${text(p, 'step')}” as ${p.done === true ? 'done' : 'not done after all'}`,
  'bench.warning-explained': (p) => `let a figure stand: ${text(p, 'warning')}`,
  'bench.explanation-withdrawn': (p) => `took back why a figure stands: ${text(p, 'warning')}`,
  'bench.style-changed': (p) =>
    `changed the style from ${text(p, 'from').toLowerCase()} to ${text(p, 'to').toLowerCase()}`,
  'bench.scribe-changed': (p) =>
    p.to === null ? 'writes without a scribe' : `named ${text(p, 'to')} as the one who writes`,
  'bench.divided': (p) => `divided the carcass into ${listed(p, 'products') || 'nothing kept'}`,
  'bench.product-added': (p) => `added ${listed(p, 'products')}`,
  'bench.sent-to-review': (p) =>
    listed(p, 'missing') === '' ? 'sent it to review' : `sent it to review without: ${listed(p, 'missing')}`,
  'bench.taken-back': () => 'took it back from review',
  'bench.remark-answered': (p) => `answered the remark on ${text(p, 'field')}: ${text(p, 'answer')}`,
  'bench.style-saved': (p) => `saved “${text(p, 'style')}” as version ${text(p, 'version')}`,
  'bench.settings-changed': () => 'changed the scales or clocks of the bench',
  'bench.reference-loaded': (p) =>
    `loaded the reference table “${text(p, 'title')}” of ${text(p, 'taxa')} species`,
  'bench.reference-removed': (p) => `removed the reference table “${text(p, 'title')}”`,
  'bench.returned': () => 'returned the record with remarks',
  'bench.approved': () => 'approved the record',
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
