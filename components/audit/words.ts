import type { HistoryEvent } from '@/lib/audit/schema';
import { say, sayWord, translate } from '@/lib/platform/words/say';
import { listed, type Payload, text } from './payload';
import { WORK_SENTENCES } from './words-of-work';

/** How a step was done: its method and temperature, where noted. */
const how = (payload: Payload): string =>
  [payload.method, typeof payload.temperatureC === 'number' ? `${payload.temperatureC} °C` : null]
    .filter(Boolean)
    .map((part) => `, ${part}`)
    .join('');

/** What was done, to follow the person's name. */
export const SENTENCES: Record<string, (payload: Payload) => string> = {
  ...WORK_SENTENCES,
  'audit.place-looked-at': (p) => say('looked at the exact place of {text}', { text: text(p, 'number') }),
  'accessions.made': (p) =>
    say('made accession {text} of {listed}', { text: text(p, 'number'), listed: listed(p, 'lots') }),
  'accessions.lot-added': (p) => say('put it into accession {text}', { text: text(p, 'accession') }),
  'accessions.changed': () => say('corrected the accession'),
  'storage.material-made': (p) =>
    say('made {text}, {text2}', { text: text(p, 'material'), text2: text(p, 'kind') }),
  'storage.material-moved': (p) =>
    p.to === null
      ? say('took {text} from {text2}', { text: text(p, 'material'), text2: text(p, 'from') })
      : say('put {text} into {text2}{x}', {
          text: text(p, 'material'),
          text2: text(p, 'to'),
          x: p.from === null ? '' : say(', from {text}', { text: text(p, 'from') }),
        }),
  'storage.custody-changed': (p) =>
    say('noted {text} as {word}', { text: text(p, 'material'), word: sayWord(text(p, 'to')).toLowerCase() }),
  'storage.moved-along': (p) =>
    say('moved {listed} with their box from {text} to {text2}', {
      listed: listed(p, 'materials'),
      text: text(p, 'from'),
      text2: text(p, 'to'),
    }),
  'storage.unit-made': (p) => say('added it to the store as {text}', { text: text(p, 'path') }),
  'storage.unit-changed': () => say('changed its settings'),
  'storage.unit-moved': (p) =>
    say('moved it from {text} to {text2}, with {text3} materials in it', {
      text: text(p, 'from'),
      text2: text(p, 'to'),
      text3: text(p, 'materials'),
    }),
  'storage.log-loaded': (p) =>
    say('read the temperature log {text}: {text2} readings, {text3} warm spells', {
      text: text(p, 'fileName'),
      text2: text(p, 'readings'),
      text3: text(p, 'excursions'),
    }),
  'storage.count-opened': (p) => say('began to count {text}', { text: text(p, 'unit') }),
  'storage.count-scanned': (p) => say('read {text} codes', { text: text(p, 'scans') }),
  'storage.count-closed': (p) =>
    say('closed the count: {text} of {text2} in their place, {text3} findings', {
      text: text(p, 'confirmed'),
      text2: text(p, 'expected'),
      text3: text(p, 'findings'),
    }),
  'tissues.filled': (p) =>
    say('filled {text} with {listed} ({text2})', {
      text: text(p, 'vial'),
      listed: listed(p, 'tissues'),
      text2: text(p, 'preservation'),
    }),
  'tissues.used': (p) =>
    say('took {text} from {text2} for {text3}; {text4} left', {
      text: text(p, 'amount'),
      text2: text(p, 'vial'),
      text3: text(p, 'purpose'),
      text4: text(p, 'left'),
    }),
  'tissues.divided': (p) =>
    say('put {text} of {text2} into {text3}', {
      text: text(p, 'amount'),
      text2: text(p, 'vial'),
      text3: text(p, 'made'),
    }),
  'tissues.changed': (p) => say('corrected {text}', { text: text(p, 'vial') }),
  'tissues.lost': (p) => say('noted {text} as lost', { text: text(p, 'vial') }),
  'tissues.found': (p) => say('found {text} again', { text: text(p, 'vial') }),
  'tissues.used-up': (p) => say('noted {text} as used up', { text: text(p, 'vial') }),
  'tissues.thaw-counted': (p) =>
    say('counted thaws of {text} after {text2}: {text3} became {text4}', {
      text: text(p, 'vial'),
      text2: text(p, 'log'),
      text3: text(p, 'from'),
      text4: text(p, 'to'),
    }),
  'bench.started': (p) =>
    say('began preparation {text}: {text2}', {
      text: text(p, 'prepNumber'),
      text2: text(p, 'style').toLowerCase(),
    }),
  'bench.values-written': () => say('wrote at the bench'),
  'bench.values-kept-as-earlier': () => say('had written before somebody else; kept as an earlier value'),
  'bench.change-undone': () => say('took a change back'),
  'bench.step-marked': (p) =>
    say('marked “{text}” as {x}', {
      text: text(p, 'step'),
      x: p.done === true ? say('done') : say('not done after all'),
    }),
  'bench.warning-explained': (p) => say('let a figure stand: {text}', { text: text(p, 'warning') }),
  'bench.explanation-withdrawn': (p) =>
    say('took back why a figure stands: {text}', { text: text(p, 'warning') }),
  'bench.style-changed': (p) =>
    say('changed the style from {text} to {text2}', {
      text: text(p, 'from').toLowerCase(),
      text2: text(p, 'to').toLowerCase(),
    }),
  'bench.scribe-changed': (p) =>
    p.to === null
      ? say('writes without a scribe')
      : say('named {text} as the one who writes', { text: text(p, 'to') }),
  'bench.divided': (p) =>
    say('divided the carcass into {listed}', { listed: listed(p, 'products') || say('nothing kept') }),
  'bench.product-added': (p) => say('added {listed}', { listed: listed(p, 'products') }),
  'bench.sent-to-review': (p) =>
    listed(p, 'missing') === ''
      ? say('sent it to review')
      : say('sent it to review without: {listed}', { listed: listed(p, 'missing') }),
  'bench.taken-back': () => say('took it back from review'),
  'bench.remark-answered': (p) =>
    say('answered the remark on {text}: {text2}', { text: text(p, 'field'), text2: text(p, 'answer') }),
  'bench.style-saved': (p) =>
    say('saved “{text}” as version {text2}', { text: text(p, 'style'), text2: text(p, 'version') }),
  'bench.settings-changed': () => say('changed the scales or clocks of the bench'),
  'bench.reference-loaded': (p) =>
    say('loaded the reference table “{text}” of {text2} species', {
      text: text(p, 'title'),
      text2: text(p, 'taxa'),
    }),
  'bench.reference-removed': (p) => say('removed the reference table “{text}”', { text: text(p, 'title') }),
  'bench.returned': () => say('returned the record with remarks'),
  'bench.approved': () => say('approved the record'),
  'catalogue.returned': () => say('sent it back from the review desk'),
  'catalogue.approved': (p) =>
    say('gave it the catalogue number {text}', { text: text(p, 'catalogueNumber') }),
  'catalogue.amended': (p) => say('amended {word}', { word: sayWord(text(p, 'field')).toLowerCase() }),
  'catalogue.determined': (p) =>
    say('noted that {text} identified it as {text2}', { text: text(p, 'by'), text2: text(p, 'to') }),
  'catalogue.deaccessioned': (p) =>
    say('deaccessioned {text} ({text2}; {text3}, {text4})', {
      text: text(p, 'material'),
      text2: text(p, 'method'),
      text3: text(p, 'authority'),
      text4: text(p, 'document'),
    }),
  'notices.comment-written': () => say('commented'),
  'notices.comment-edited': () => say('wrote a comment anew'),
  'notices.comment-withdrawn': () => say('withdrew a comment'),
  'notices.told': (p) =>
    say('told {x} of it', {
      x: p.people === 1 ? say('one person') : say('{text} people', { text: text(p, 'people') }),
    }),
  'notices.mailed': (p) =>
    say('mailed {x}', {
      x: p.notices === 1 ? say('a notice') : say('{text} notices', { text: text(p, 'notices') }),
    }),
  'notices.followed': (p) =>
    p.following === true ? say('followed a record') : say('stopped following a record'),
  'notices.read-marked': (p) =>
    say('marked {x} as {x2}', {
      x: p.notices === 1 ? say('a notice') : say('{text} notices', { text: text(p, 'notices') }),
      x2: p.read === true ? say('read') : say('unread'),
    }),
  'notices.preferences-set': () => say('chose how to be told of things'),
  'attachments.added': (p) =>
    say('added {x}', { x: text(p, 'mediaType').startsWith('image/') ? say('a photo') : say('a document') }),
  'attachments.captioned': () => say('said what a photo or document shows'),
  'attachments.removed': (p) =>
    say('removed {x}', { x: text(p, 'mediaType').startsWith('image/') ? say('a photo') : say('a document') }),
  'attachments.original-read': () => say('opened the original of a photo with its place'),
  'loans.asked': (p) =>
    say('asked for {listed} for {text}', { listed: listed(p, 'materials'), text: text(p, 'borrower') }),
  'loans.link-made': (p) => say('made a link to ask for a loan: {text}', { text: text(p, 'link') }),
  'loans.link-ended': (p) => say('ended the link {text}', { text: text(p, 'link') }),
  'loans.asked-by-link': (p) => say('asked through the link {text}', { text: text(p, 'link') }),
  'loans.materials-chosen': (p) => say('chose its materials: {listed}', { listed: listed(p, 'materials') }),
  'loans.taken-into-review': () => say('took the request into review'),
  'loans.documents-set': () => say('noted the papers of the parcel'),
  'loans.sent': (p) =>
    say('sent it on {text}, due back on {text2}', { text: text(p, 'on'), text2: text(p, 'dueOn') }),
  'loans.received': (p) => say('noted that it arrived on {text}', { text: text(p, 'on') }),
  'loans.lines-settled': (p) => say('settled lines: {text}', { text: text(p, 'balance') }),
  'loans.extended': (p) =>
    say('extended it from {text} to {text2}', { text: text(p, 'from'), text2: text(p, 'to') }),
  'loans.reminded': (p) =>
    p.kind === 'overdue'
      ? say('reminded: {text} days overdue', { text: text(p, 'days') })
      : say('reminded: due in {text} days', { text: text(p, 'days') }),
  'loans.material-sent': (p) =>
    say('sent {text} to {text2} on loan {text3}', {
      text: text(p, 'material'),
      text2: text(p, 'borrower'),
      text3: text(p, 'loan'),
    }),
  'loans.material-settled': (p) =>
    say('noted {text} of loan {text2} as {text3}', {
      text: text(p, 'material'),
      text2: text(p, 'loan'),
      text3: text(p, 'outcome'),
    }),
  'reports.opened': (p) => say('opened edition {text}', { text: text(p, 'edition') }),
  'reports.explained': (p) =>
    say('explained “{warning}”: {why}', { warning: text(p, 'warning'), why: text(p, 'text') }),
  'reports.made-ready': () => say('marked it as ready to sign'),
  'reports.signed': (p) =>
    say('signed it: {text} birds, {text2} on hand', { text: text(p, 'birds'), text2: text(p, 'onHand') }),
  'reports.amended': (p) =>
    say('opened edition {text} to replace edition {text2}', {
      text: text(p, 'edition'),
      text2: text(p, 'replaces'),
    }),
  'permits.created': (p) =>
    p.renews === null
      ? say('entered permit {text}', { text: text(p, 'number') })
      : say('entered it as the renewal of {text}', { text: text(p, 'renews') }),
  'permits.amended': (p) => say('amended its terms from {text} on', { text: text(p, 'effectiveOn') }),
  'permits.corrected': () => say('corrected the permit'),
  'permits.renewed': (p) => say('entered {text} as its renewal', { text: text(p, 'by') }),
  'permits.reminded': (p) =>
    say('reminded: the {x} {x2}', {
      x: p.what === 'expiring' ? say('permit ends') : say('report is due'),
      x2:
        Number(p.days) < 0
          ? say('{x} days ago', { x: -Number(p.days) })
          : say('in {text} days', { text: text(p, 'days') }),
    }),
  'permits.pack-loaded': (p) => say('loaded version {text}', { text: text(p, 'version') }),
  'permits.pack-switched': (p) => (p.active === true ? say('took it into use') : say('took it out of use')),
  'permits.rule-confirmed': (p) =>
    say('confirmed rule {text} ({text2})', { text: text(p, 'rule'), text2: text(p, 'cite') }),
  'permits.rule-doubted': (p) => say('put rule {text} in doubt', { text: text(p, 'rule') }),
  'salvage.logged': (p) =>
    p.source === 'drop-off'
      ? say('reported it by a drop-off slip')
      : say('logged it as {text}', { text: text(p, 'number') }),
  'salvage.changed': () => say('changed what is known'),
  'salvage.identified-anew': (p) =>
    say('identified it anew: {text} is {text2}', { text: text(p, 'from'), text2: text(p, 'to') }),
  'salvage.triage-started': () => say('began triage'),
  'salvage.accepted': (p) => say('accepted it, {word}', { word: sayWord(text(p, 'state')).toLowerCase() }),
  'salvage.declined': () => say('declined it'),
  'salvage.hold-placed': (p) =>
    say('{x} it on hold: {word}{x2}', {
      x: p.byCheck === true ? say('had the check put') : say('put'),
      word: sayWord(text(p, 'hold')).toLowerCase(),
      x2: p.tellWhom === null ? '' : say('; to be told: {text}', { text: text(p, 'tellWhom') }),
    }),
  'salvage.hold-lifted': (p) =>
    say('{x} the hold: {word}{x2}', {
      x: p.byCheck === true ? say('had the check lift') : say('lifted'),
      word: sayWord(text(p, 'hold')).toLowerCase(),
      x2: p.document === null ? '' : ` (${text(p, 'document')})`,
    }),
  'salvage.coverage-checked': (p) =>
    say('had its coverage checked: {word}{x}', {
      word: sayWord(text(p, 'to')).toLowerCase(),
      x: p.authority === null ? '' : say(' by {text}', { text: text(p, 'authority') }),
    }),
  'salvage.ruled': (p) =>
    say('ruled it {word} ({text}){x}', {
      word: sayWord(text(p, 'verdict')).toLowerCase(),
      text: text(p, 'cite'),
      x: p.permit === null ? '' : say(', counted under {text}', { text: text(p, 'permit') }),
    }),
  'salvage.ruling-ended': () => say('ended the ruling'),
  'salvage.handed-over': (p) =>
    say('noted it handed over from {text} to {text2}', { text: text(p, 'from'), text2: text(p, 'to') }),
  'salvage.band-reported': (p) =>
    say('noted band {text} as reported on {text2}', { text: text(p, 'band'), text2: text(p, 'reportedOn') }),
  'salvage.finder-looked-up': () => say('looked up the finder'),
  'salvage.finder-changed': () => say('changed the finder’s data'),
  'salvage.finder-exported': () => say('took a copy of all that is kept of the finder'),
  'salvage.finder-contact-expired': () =>
    say('erased the finder’s contact data, which were kept long enough'),
  'salvage.finder-erased': () => say('erased the finder’s data on request'),
  'skeletons.book-saved': (p) =>
    say('wrote in the bone book{x}', {
      x: p.balanced === true ? say('; every bone is somewhere, once') : '',
    }),
  'skeletons.procedure-chosen': (p) =>
    say('set {text} on {text2}, at “{text3}”', {
      text: text(p, 'material'),
      text2: text(p, 'procedure'),
      text3: text(p, 'step'),
    }),
  'skeletons.step-begun': (p) =>
    say('moved {text} on: {text2}{how}', { text: text(p, 'material'), text2: text(p, 'to'), how: how(p) }),
  'skeletons.shelved': (p) => say('put {text} on the shelf', { text: text(p, 'material') }),
  'skeletons.box-counted': (p) =>
    say('counted {text} pieces of {text2}; {listed}', {
      text: text(p, 'pieces'),
      text2: text(p, 'material'),
      listed: listed(p, 'questions') === '' ? say('they agree with the book') : listed(p, 'questions'),
    }),
  'skeletons.question-answered': (p) =>
    say('answered “{question}”: {answer}', { question: text(p, 'question'), answer: text(p, 'answer') }),
  'skeletons.procedures-changed': (p) =>
    say('changed the cleaning procedures: {listed}', { listed: listed(p, 'procedures') }),
  'skins.moved-on': (p) =>
    say('moved {text} on: {word}{how}', {
      text: text(p, 'material'),
      word: sayWord(text(p, 'to')).toLowerCase(),
      how: how(p),
    }),
  'people.exported': (p) => say('took a copy of all that is kept of {text}', { text: text(p, 'person') }),
  'people.erased': () => say('erased the personal data on request'),
  'people.roles-changed': (p) =>
    say('changed the roles of {text} from {listed} to {listed2}', {
      text: text(p, 'person'),
      listed: listed(p, 'from') || say('none'),
      listed2: listed(p, 'to'),
    }),
};

/** An event of a later version, without a sentence here, reads as its words. */
export function sayEvent(event: HistoryEvent): string {
  const sentence = SENTENCES[event.kind];
  if (sentence !== undefined) return sentence(event.payload);
  const [, act = event.kind] = event.kind.split('.');
  return `${sayWord(act).toLowerCase()}`;
}

const sayValue = (value: unknown): string | null => {
  if (value === null || value === undefined || value === '') return null;
  if (typeof value === 'object') return JSON.stringify(value);
  return typeof value === 'boolean' ? (value ? say('yes') : say('no')) : String(value);
};

/** A field's name in code, or the label that it had on screen when it was written. */
const sayField = (field: string): string =>
  /^[a-z]\w*$/.test(field)
    ? sayWord(field.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase())
    : translate(field);

/** Field differences of an event, each with a readable label. What the bench wrote are words of its lists. */
export function sayChanges(event: HistoryEvent): { label: string; from: string | null; to: string | null }[] {
  const { changes } = event.payload;
  if (typeof changes !== 'object' || changes === null) return [];
  const read = (value: string | null) =>
    value !== null && event.kind.startsWith('bench.') ? translate(value) : value;
  return Object.entries(changes as Record<string, { from?: unknown; to?: unknown }>).map(
    ([field, { from, to }]) => ({
      label: sayField(field),
      from: read(sayValue(from)),
      to: read(sayValue(to)),
    }),
  );
}
