import type { Page } from '@playwright/test';
import { read } from './people';

type Row = { id: string; birdId?: string; state?: string; number?: string; kind?: string; stage?: string };

/** A page of a record: which rows to ask for, which of them to show, and the page's address before the id. */
type RecordPage = { list: string; at: string; pick?: (rows: Row[]) => Row | undefined; by?: 'birdId' };
type PageOf = string | RecordPage;

const inState =
  (state: string) =>
  (rows: Row[]): Row | undefined =>
    rows.find((row) => row.state === state) ?? rows[0];

/** Every page, by the person who works on it: name → address, or the record to open. */
export const PAGES: Record<string, Record<string, PageOf>> = {
  visitor: {
    'catalogue-visitor': '/catalogue',
    'map-visitor': '/catalogue?view=map',
    'desk-visitor': '/',
    'tour-visitor': '/tour',
  },
  administrator: {
    'desk-administrator': '/',
    people: '/people',
    person: { list: '/api/people', at: '/people/' },
    tokens: '/exchange/tokens',
    webhooks: '/exchange/webhooks',
    api: '/exchange/api',
  },
  volunteer: { desk: '/', tour: '/tour', queue: '/queue', 'bench-desk': '/bench' },
  preparator: {
    'desk-preparator': '/',
    lab: '/bench/lab',
    bench: { list: '/api/bench', at: '/bench/', pick: inState('open') },
    plan: '/queue/plan',
    forecast: '/queue/forecast',
    skills: '/queue/skills',
    skeletons: '/skeletons',
    procedures: '/skeletons/procedures',
    skins: '/skins',
  },
  registrar: {
    'desk-registrar': '/',
    accessions: '/accessions',
    'accession-new': '/accessions/new',
    accession: { list: '/api/accessions', at: '/accessions/' },
    loans: '/loans',
    'loan-new': '/loans/new',
    'loan-links': '/loans/links',
    'loan-request-ended': '/loan-request/unknown',
    loan: { list: '/api/loans', at: '/loans/', pick: inState('received') },
    storage: '/storage',
    box: {
      list: '/api/storage',
      at: '/storage/',
      pick: (units) => units.find((unit) => unit.kind === 'box') ?? units[0],
    },
    tissues: '/tissues',
    tissue: { list: '/api/tissues', at: '/tissues/' },
    material: { list: '/api/tissues', at: '/materials/' },
    taxa: '/taxa',
    taxon: { list: '/api/taxa', at: '/taxa/' },
    checklists: '/taxa/checklists',
    checklist: { list: '/api/taxa/checklists', at: '/taxa/checklists/' },
    places: '/places',
    place: { list: '/api/places', at: '/places/' },
    'place-new': '/places/new',
    exchange: '/exchange',
    quality: '/exchange/quality',
  },
  officer: {
    'desk-officer': '/',
    permits: '/permits',
    permit: { list: '/api/permits', at: '/permits/' },
    'permit-new': '/permits/new',
    law: '/permits/law',
    'law-pack': { list: '/api/permits/rule-packs', at: '/permits/law/' },
    salvage: '/salvage',
    'salvage-new': '/salvage/new',
    'salvage-record': { list: '/api/salvage', at: '/salvage/' },
    slips: '/salvage/slips',
    reports: '/reports',
    report: { list: '/api/reports', at: '/reports/', pick: inState('signed') },
  },
  curator: {
    'desk-curator': '/',
    notices: '/notices',
    'notice-preferences': '/notices/preferences',
    review: '/catalogue/review',
    'review-record': { list: '/api/catalogue/review', at: '/catalogue/review/' },
    catalogue: '/catalogue',
    'catalogue-map': '/catalogue?view=map',
    'catalogue-builder': '/catalogue?builder=open&q=month%3A3..5+%28sex%3Afemale+or+-stage%3Aqueued%29',
    'catalogue-charts': '/catalogue?view=charts',
    numbers: '/catalogue/numbers',
    bird: { list: '/api/catalogue?q=stage:catalogued', at: '/birds/', by: 'birdId' },
    specimen: { list: '/api/catalogue?q=stage:catalogued', at: '/catalogue/', by: 'birdId' },
    'queue-curator': '/queue',
    'queue-settings': '/queue/settings',
  },
};

/** Where a page is, asked of the server where it is of a record. @throws when there is no such record. */
export async function addressOf(page: Page, target: PageOf): Promise<string> {
  if (typeof target === 'string') return target;
  const answer = await read<{ rows?: Row[]; units?: Row[] }>(page, target.list);
  const rows = answer.rows ?? answer.units ?? [];
  const row = (target.pick ?? ((all: Row[]) => all[0]))(rows);
  if (!row) throw new Error(`${target.list} has no row to show`);
  return `${target.at}${row[target.by ?? 'id'] ?? row.id}`;
}
