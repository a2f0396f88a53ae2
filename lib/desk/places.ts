import { paths } from '@/lib/platform/paths';
import { may, type Permission, type Role } from '@/lib/platform/permissions';
import { phrases } from '@/lib/platform/words/say';
import { STAGE_IDS, type StageId } from './stages';

/**
 * Where one can go and what one can begin: the only table of it. The rail, what lies beside the line and the command
 * menu are made from it. `kind` says where an entry is seen: in the rail, beside it, or in the command menu alone (as a
 * page, or as a task in plain verbs). `also` are other words by which people look for it.
 */
export type PlaceKind = 'home' | 'stage' | 'beside' | 'page' | 'task';
export type Place = {
  id: string;
  kind: PlaceKind;
  label: string;
  /** A page's address; a task's may name the section of the page where it begins. */
  href: string;
  /** What one must be allowed in order to open the page, or to do the task. */
  permission: Permission;
  also: readonly string[];
};

const place =
  (kind: PlaceKind) =>
  (id: string, label: string, href: string, permission: Permission, also: string): Place => ({
    id,
    kind,
    label,
    href,
    permission,
    also: also === '' ? [] : also.split(', '),
  });
const stage = (id: StageId, ...rest: [string, string, Permission, string]) => place('stage')(id, ...rest);
const beside = place('beside');
const page = place('page');
const task = place('task');

export const PLACES: readonly Place[] = phrases([
  task('log', 'Log a find', paths.salvageNew, 'salvage.log', 'new bird, report, salvage, carcass'),
  task('triage', 'Triage new birds', paths.triage, 'salvage.triage', 'accept, decline, identify, check in'),
  task(
    'accession',
    'Make an accession',
    paths.accessionNew,
    'accessions.make',
    'accession number, gift, new lot',
  ),
  task(
    'take',
    'Take the next bird',
    paths.queue,
    'queue.claim',
    'claim, carcass, prepare, thaw, out of the freezer',
  ),
  task(
    'enqueue',
    'Choose preparations',
    `${paths.queue}#not-queued`,
    'queue.prioritise',
    'put into the queue, study skin, skeleton, spread wing, style',
  ),
  task('plan-day', 'Plan a day', `${paths.dayPlan}#new`, 'plan.make', 'schedule, benches, volunteers, rota'),
  task('sign-skill', 'Sign a skill', paths.skills, 'skills.sign', 'training, competence, volunteer may'),
  task('review-next', 'Review records', paths.review, 'bench.review', 'approve, return, catalogue number'),
  task('ask-loan', 'Ask for a loan', paths.loanNew, 'loans.ask', 'new loan, lend, send out, borrower'),
  task(
    'new-permit',
    'Enter a permit',
    paths.permitNew,
    'permits.manage',
    'new permit, authorisation, licence',
  ),
  task('open-report', 'Open a salvage report', paths.reports, 'reports.make', 'annual report, sign, due'),
  task('slip', 'Make a drop-off slip', paths.slips, 'salvage.slips', 'finder, public, QR code, poster'),
  task(
    'place-new',
    'Add a place',
    paths.placeNew,
    'places.manage',
    'describe, new locality, coordinates, georeference',
  ),
  task(
    'find-room',
    'Find room in the store',
    `${paths.storage}#room`,
    'storage.see',
    'free position, space, box',
  ),
  task(
    'print-labels',
    'Print labels of a box or its vials',
    `${paths.storage}#places`,
    'labels.print',
    'label, barcode, Data Matrix, sticker',
  ),
  task('print-vials', 'Print labels of vials', paths.tissues, 'labels.print', 'label, cap, side, cryovial'),
  task(
    'count',
    'Count a place',
    `${paths.storage}#counts`,
    'inventory.run',
    'inventory, stocktaking, missing, audit a freezer',
  ),
  task(
    'import',
    'Bring records in',
    `${paths.exchange}#imports`,
    'imports.run',
    'import, CSV, spreadsheet, upload',
  ),
  task(
    'export',
    'Take records out',
    `${paths.exchange}#exports`,
    'exports.make',
    'export, Darwin Core, download, CSV',
  ),
  task(
    'load-checklist',
    'Load a checklist',
    `${paths.checklists}#load`,
    'taxa.manage',
    'taxonomy, names, import',
  ),
  task(
    'load-pack',
    'Load a rule pack',
    `${paths.law}#packs`,
    'permits.manage',
    'law, regulation, protected species',
  ),
  task(
    'invite',
    'Invite somebody',
    `${paths.people}#invite`,
    'people.manage',
    'new account, user, volunteer, person',
  ),
  task('make-token', 'Make a token', `${paths.tokens}#make`, 'tokens.manage', 'API key, access, program'),
  task(
    'make-webhook',
    'Register a webhook',
    `${paths.webhooks}#make`,
    'webhooks.manage',
    'address, event, program',
  ),

  place('home')('home', 'My desk', paths.home, 'workspace.enter', 'first page, home, what waits, to do'),
  stage('permits', 'Permits', paths.permits, 'permits.see', 'authorisation, licence, conditions'),
  stage('salvage', 'Salvage', paths.salvage, 'salvage.see', 'finds, reported birds, custody, holds'),
  stage('accessions', 'Accessions', paths.accessions, 'accessions.see', 'register, acquisition'),
  stage('queue', 'Queue', paths.queue, 'queue.see', 'waiting, priority, freezer, next bird'),
  stage('bench', 'Bench', paths.bench, 'bench.see', 'preparation, my birds, record, measures'),
  stage('tissues', 'Tissues', paths.tissues, 'tissues.see', 'vials, samples, DNA, cryo'),
  stage('skeletons', 'Skeletons', paths.skeletons, 'materials.see', 'bones, cleaning, maceration, beetles'),
  stage('skins', 'Skins', paths.skins, 'materials.see', 'study skins, drying, pinning'),
  stage('catalogue', 'Catalogue', paths.catalogue, 'catalogue.see', 'specimens, search, find, map, charts'),
  stage('loans', 'Loans', paths.loans, 'loans.see', 'lent, borrowers, due, returns'),
  stage('reports', 'Reports', paths.reports, 'reports.see', 'salvage report, annual, authority'),
  beside('storage', 'Storage', paths.storage, 'storage.see', 'freezers, boxes, drawers, cabinets, shelves'),
  beside('taxa', 'Taxa', paths.taxa, 'taxa.see', 'species, names, taxonomy, families'),
  beside('places', 'Places', paths.places, 'places.see', 'localities, gazetteer, coordinates'),
  beside(
    'exchange',
    'Imports and exports',
    paths.exchange,
    'catalogue.see',
    'files, Darwin Core, data package, download',
  ),
  beside('people', 'People', paths.people, 'people.manage', 'accounts, roles, users, staff'),

  page(
    'tour',
    'One bird from find to shelf',
    paths.tour,
    'workspace.enter',
    'help, tour, newcomer, how it works, learn, introduction, cautions',
  ),
  page(
    'law',
    'Rules and lists',
    paths.law,
    'permits.see',
    'law, rule packs, regulation, protected species, decisions',
  ),
  page('plans', 'Day plans', paths.dayPlan, 'plan.see', 'today, board, schedule, who does what'),
  page('forecast', 'Forecast', paths.forecast, 'plan.see', 'backlog, how long, what if'),
  page('skills', 'Skills', paths.skills, 'plan.see', 'training, who may do what'),
  page('queue-settings', 'Queue settings', paths.queueSettings, 'plan.see', 'weights, priority, scales'),
  page(
    'lab',
    'How this lab works',
    paths.benchLab,
    'bench.see',
    'settings of the bench, styles, reference measures, steps',
  ),
  page(
    'procedures',
    'Cleaning procedures',
    paths.cleaningProcedures,
    'materials.see',
    'bones, beetles, maceration',
  ),
  page('review', 'Review desk', paths.review, 'bench.review', 'records sent, approve'),
  page(
    'numbers',
    'The lab in numbers',
    paths.numbers,
    'numbers.see',
    'charts, figures, statistics, throughput',
  ),
  page('loan-links', 'Links for borrowers', paths.loanLinks, 'loans.ask', 'outside, request, one-purpose'),
  page('checklists', 'Checklists', paths.checklists, 'taxa.see', 'taxonomy, editions, names'),
  page('quality', 'Quality before release', paths.quality, 'exports.make', 'gaps, tests, errors'),
  page('tokens', 'Tokens', paths.tokens, 'tokens.manage', 'API keys, programs'),
  page('webhooks', 'Webhooks', paths.webhooks, 'webhooks.manage', 'deliveries, events'),
  page('api', 'API', paths.apiReference, 'workspace.enter', 'reference, OpenAPI, programs, developers'),
  page('notices', 'Notices', paths.notices, 'notices.see', 'messages, mentions, unread'),
  page(
    'notice-wishes',
    'What I am told',
    paths.noticePreferences,
    'notices.see',
    'notices, e-mail, digest, mute',
  ),
  page(
    'second-factor',
    'Second factor',
    paths.secondFactor,
    'workspace.enter',
    'password, sign in, security, codes',
  ),
]);

type Who = { personId: string | null; roles: readonly Role[] };

/** What this person may open and begin, in the table's order. */
export const placesOf = (who: Who): Place[] => PLACES.filter(({ permission }) => may(who, permission));

/** The stages of the rail that this person may open, in the order of a bird's life. */
export function stagesOf(who: Who): (Place & { id: StageId })[] {
  const open = placesOf(who).filter(({ kind }) => kind === 'stage');
  return STAGE_IDS.flatMap((id) => open.filter((one) => one.id === id).map((one) => ({ ...one, id })));
}
