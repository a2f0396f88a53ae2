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
  'audit.place-looked-at': (p) => `looked at the exact place of ${text(p, 'number')}`,
  'accessions.made': (p) => `made accession ${text(p, 'number')} of ${listed(p, 'lots')}`,
  'accessions.lot-added': (p) => `put it into accession ${text(p, 'accession')}`,
  'accessions.changed': () => 'corrected the accession',
  'storage.material-made': (p) => `made ${text(p, 'material')}, ${text(p, 'kind')}`,
  'storage.material-moved': (p) =>
    p.to === null
      ? `took ${text(p, 'material')} from ${text(p, 'from')}`
      : `put ${text(p, 'material')} into ${text(p, 'to')}${p.from === null ? '' : `, from ${text(p, 'from')}`}`,
  'storage.custody-changed': (p) => `noted ${text(p, 'material')} as ${sayWord(text(p, 'to')).toLowerCase()}`,
  'storage.moved-along': (p) =>
    `moved ${listed(p, 'materials')} with their box from ${text(p, 'from')} to ${text(p, 'to')}`,
  'storage.unit-made': (p) => `added it to the store as ${text(p, 'path')}`,
  'storage.unit-changed': () => 'changed its settings',
  'storage.unit-moved': (p) =>
    `moved it from ${text(p, 'from')} to ${text(p, 'to')}, with ${text(p, 'materials')} materials in it`,
  'storage.log-loaded': (p) =>
    `read the temperature log ${text(p, 'fileName')}: ${text(p, 'readings')} readings, ${text(p, 'excursions')} warm spells`,
  'storage.count-opened': (p) => `began to count ${text(p, 'unit')}`,
  'storage.count-scanned': (p) => `read ${text(p, 'scans')} codes`,
  'storage.count-closed': (p) =>
    `closed the count: ${text(p, 'confirmed')} of ${text(p, 'expected')} in their place, ${text(p, 'findings')} findings`,
  'tissues.filled': (p) =>
    `filled ${text(p, 'vial')} with ${listed(p, 'tissues')} (${text(p, 'preservation')})`,
  'tissues.used': (p) =>
    `took ${text(p, 'amount')} from ${text(p, 'vial')} for ${text(p, 'purpose')}; ${text(p, 'left')} left`,
  'tissues.divided': (p) => `put ${text(p, 'amount')} of ${text(p, 'vial')} into ${text(p, 'made')}`,
  'tissues.changed': (p) => `corrected ${text(p, 'vial')}`,
  'tissues.lost': (p) => `noted ${text(p, 'vial')} as lost`,
  'tissues.found': (p) => `found ${text(p, 'vial')} again`,
  'tissues.used-up': (p) => `noted ${text(p, 'vial')} as used up`,
  'tissues.thaw-counted': (p) =>
    `counted thaws of ${text(p, 'vial')} after ${text(p, 'log')}: ${text(p, 'from')} became ${text(p, 'to')}`,
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
  'notices.comment-written': () => 'commented',
  'notices.comment-edited': () => 'wrote a comment anew',
  'notices.comment-withdrawn': () => 'withdrew a comment',
  'notices.told': (p) => `told ${p.people === 1 ? 'one person' : `${text(p, 'people')} people`} of it`,
  'notices.mailed': (p) => `mailed ${p.notices === 1 ? 'a notice' : `${text(p, 'notices')} notices`}`,
  'notices.followed': (p) => (p.following === true ? 'followed a record' : 'stopped following a record'),
  'notices.read-marked': (p) =>
    `marked ${p.notices === 1 ? 'a notice' : `${text(p, 'notices')} notices`} as ${p.read === true ? 'read' : 'unread'}`,
  'notices.preferences-set': () => 'chose how to be told of things',
  'attachments.added': (p) => `added ${text(p, 'mediaType').startsWith('image/') ? 'a photo' : 'a document'}`,
  'attachments.captioned': () => 'said what a photo or document shows',
  'attachments.removed': (p) =>
    `removed ${text(p, 'mediaType').startsWith('image/') ? 'a photo' : 'a document'}`,
  'attachments.original-read': () => 'opened the original of a photo with its place',
  'loans.asked': (p) => `asked for ${listed(p, 'materials')} for ${text(p, 'borrower')}`,
  'loans.link-made': (p) => `made a link to ask for a loan: ${text(p, 'link')}`,
  'loans.link-ended': (p) => `ended the link ${text(p, 'link')}`,
  'loans.asked-by-link': (p) => `asked through the link ${text(p, 'link')}`,
  'loans.materials-chosen': (p) => `chose its materials: ${listed(p, 'materials')}`,
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
  'permits.created': (p) =>
    p.renews === null
      ? `entered permit ${text(p, 'number')}`
      : `entered it as the renewal of ${text(p, 'renews')}`,
  'permits.amended': (p) => `amended its terms from ${text(p, 'effectiveOn')} on`,
  'permits.corrected': () => 'corrected the permit',
  'permits.renewed': (p) => `entered ${text(p, 'by')} as its renewal`,
  'permits.reminded': (p) =>
    `reminded: the ${p.what === 'expiring' ? 'permit ends' : 'report is due'} ${
      Number(p.days) < 0 ? `${-Number(p.days)} days ago` : `in ${text(p, 'days')} days`
    }`,
  'permits.pack-loaded': (p) => `loaded version ${text(p, 'version')}`,
  'permits.pack-switched': (p) => (p.active === true ? 'took it into use' : 'took it out of use'),
  'permits.rule-confirmed': (p) => `confirmed rule ${text(p, 'rule')} (${text(p, 'cite')})`,
  'permits.rule-doubted': (p) => `put rule ${text(p, 'rule')} in doubt`,
  'salvage.logged': (p) =>
    p.source === 'drop-off' ? 'reported it by a drop-off slip' : `logged it as ${text(p, 'number')}`,
  'salvage.changed': () => 'changed what is known',
  'salvage.identified-anew': (p) => `identified it anew: ${text(p, 'from')} is ${text(p, 'to')}`,
  'salvage.triage-started': () => 'began triage',
  'salvage.accepted': (p) => `accepted it, ${sayWord(text(p, 'state')).toLowerCase()}`,
  'salvage.declined': () => 'declined it',
  'salvage.hold-placed': (p) =>
    `${p.byCheck === true ? 'had the check put' : 'put'} it on hold: ${sayWord(text(p, 'hold')).toLowerCase()}${
      p.tellWhom === null ? '' : `; to be told: ${text(p, 'tellWhom')}`
    }`,
  'salvage.hold-lifted': (p) =>
    `${p.byCheck === true ? 'had the check lift' : 'lifted'} the hold: ${sayWord(text(p, 'hold')).toLowerCase()}${
      p.document === null ? '' : ` (${text(p, 'document')})`
    }`,
  'salvage.coverage-checked': (p) =>
    `had its coverage checked: ${sayWord(text(p, 'to')).toLowerCase()}${
      p.authority === null ? '' : ` by ${text(p, 'authority')}`
    }`,
  'salvage.ruled': (p) =>
    `ruled it ${sayWord(text(p, 'verdict')).toLowerCase()} (${text(p, 'cite')})${
      p.permit === null ? '' : `, counted under ${text(p, 'permit')}`
    }`,
  'salvage.ruling-ended': () => 'ended the ruling',
  'salvage.handed-over': (p) => `noted it handed over from ${text(p, 'from')} to ${text(p, 'to')}`,
  'salvage.band-reported': (p) => `noted band ${text(p, 'band')} as reported on ${text(p, 'reportedOn')}`,
  'salvage.finder-looked-up': () => 'looked up the finder',
  'salvage.finder-changed': () => 'changed the finder’s data',
  'salvage.finder-exported': () => 'took a copy of all that is kept of the finder',
  'salvage.finder-contact-expired': () => 'erased the finder’s contact data, which were kept long enough',
  'salvage.finder-erased': () => 'erased the finder’s data on request',
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
  'people.exported': (p) => `took a copy of all that is kept of ${text(p, 'person')}`,
  'people.erased': () => 'erased the personal data on request',
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
