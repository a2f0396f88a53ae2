import { say, sayCode } from '@/lib/platform/words/say';
import { listed, type Payload, text } from './payload';

const code = (payload: Payload, key: string): string => sayCode(text(payload, key));

const CARCASS_SENTENCES: Record<string, () => string> = {
  freeze: () => say('put it into the freezer'),
  queue: () => say('put it into the queue'),
  'leave-queue': () => say('took it out of the queue'),
  'take-out': () => say('took it out of the freezer'),
  start: () => say('began to prepare it'),
  'freeze-again': () => say('froze it again'),
  finish: () => say('finished the preparation'),
  discard: () => say('discarded the carcass'),
  transfer: () => say('transferred it to another institution'),
  release: () => say('gave it to the authority'),
};

/** What was done with the queue, loans, people, exchange, law and the rest of the installation; see words.ts. */
export const WORK_SENTENCES: Record<string, (payload: Payload) => string> = {
  'queue.queued': (p) =>
    say('put it into the queue: {style}, {size}', { style: code(p, 'style'), size: code(p, 'sizeClass') }),
  'queue.taken': (p) =>
    p.supervisor === null ? say('took it to prepare') : say('took it to prepare beside a supervisor'),
  'queue.put-back': () => say('put it back into the queue'),
  'queue.handed-over': (p) =>
    say('handed it over from {from} to {to}', { from: text(p, 'from'), to: text(p, 'to') }),
  'queue.requested': (p) => say('asked for it to be prepared: {urgency}', { urgency: code(p, 'urgency') }),
  'queue.carcass-moved': (p) =>
    CARCASS_SENTENCES[text(p, 'act')]?.() ??
    say('moved the carcass on: {from} to {to}', { from: code(p, 'from'), to: code(p, 'to') }),
  'queue.co-worker-named': (p) =>
    p.coWorker === null
      ? say('took the second person off it')
      : say('named {name} to work on it too', { name: text(p, 'coWorker') }),
  'queue.claim-ending': (p) =>
    say('reminded {person}: it must be taken out or put back', { person: text(p, 'person') }),
  'queue.claim-ran-out': (p) =>
    say('gave it back to the queue: {person} kept it too long', { person: text(p, 'person') }),
  'queue.plan-asked': (p) => say('asked for the plan of {day}', { day: text(p, 'planOn') }),
  'queue.plan-begun': (p) => say('began to plan {day}', { day: text(p, 'planOn') }),
  'queue.plan-answered': (p) =>
    say('planned {day}: {birds} birds', { day: text(p, 'planOn'), birds: text(p, 'birds') }),
  'queue.plan-stopped': (p) => say('stopped planning {day}', { day: text(p, 'planOn') }),
  'queue.plan-failed': (p) => say('could not plan {day}', { day: text(p, 'planOn') }),
  'queue.plan-put-in-force': (p) =>
    say('put the plan of {day} into force: {given} birds given', {
      day: text(p, 'planOn'),
      given: text(p, 'given'),
    }),
  'queue.plan-set-aside': (p) => say('set the plan of {day} aside', { day: text(p, 'planOn') }),
  'queue.settings-changed': () => say('changed the settings of the queue'),
  'queue.skill-signed': (p) =>
    p.level === null
      ? say('took a skill from {person}: {style}', { person: text(p, 'person'), style: code(p, 'style') })
      : say('signed off a skill of {person}: {style}, {size}, {level}', {
          person: text(p, 'person'),
          style: code(p, 'style'),
          size: code(p, 'sizeClass'),
          level: code(p, 'level'),
        }),
  'queue.priorities-computed': (p) =>
    say('ranked the queue anew: {birds} birds', { birds: text(p, 'birds') }),
  'loans.borrower-made': (p) => say('entered the borrower {name}', { name: text(p, 'institution') }),
  'loans.granted': () => say('granted the loan'),
  'loans.declined': () => say('declined the loan'),
  'loans.withdrawn': () => say('withdrew the request'),
  'loans.packed': (p) => say('packed {materials}', { materials: listed(p, 'materials') }),
  'loans.unpacked': () => say('unpacked it again'),
  'loans.closed': () => say('closed the loan'),
  'people.collection-founded': (p) => say('founded the collection {name}', { name: text(p, 'name') }),
  'people.invited': (p) =>
    say('invited {person} as {roles}', {
      person: text(p, 'person'),
      roles: Array.isArray(p.roles) ? p.roles.map((role) => sayCode(String(role))).join(', ') : '',
    }),
  'people.joined': () => say('joined'),
  'people.active-changed': (p) =>
    p.active === true
      ? say('let {person} in again', { person: text(p, 'person') })
      : say('shut {person} out', { person: text(p, 'person') }),
  'people.sessions-ended': (p) => say('signed {person} out everywhere', { person: text(p, 'person') }),
  'people.reset-offered': (p) =>
    say('made {person} a link for a new password', { person: text(p, 'person') }),
  'people.password-set': () => say('set a new password'),
  'people.second-factor-set': () => say('set up a second factor'),
  'people.second-factor-reset': (p) =>
    say('took away the second factor of {person}', { person: text(p, 'person') }),
  'exchange.exported': (p) => say('exported {form}', { form: code(p, 'form') }),
  'exchange.token-made': (p) => say('made the token {name}', { name: text(p, 'name') }),
  'exchange.token-revoked': (p) => say('ended the token {name}', { name: text(p, 'name') }),
  'exchange.webhook-made': (p) => say('made the webhook {name}', { name: text(p, 'name') }),
  'exchange.webhook-switched': (p) =>
    p.active === true
      ? say('switched the webhook {name} on', { name: text(p, 'name') })
      : say('switched the webhook {name} off', { name: text(p, 'name') }),
  'exchange.webhook-resent': (p) => say('sent a message of {name} again', { name: text(p, 'name') }),
  'exchange.import-handed-in': (p) => say('handed in {file}', { file: text(p, 'fileName') }),
  'exchange.import-check-begun': (p) => say('began to check {file}', { file: text(p, 'fileName') }),
  'exchange.import-checked': (p) =>
    say('checked {file}: {rows} rows, {faults} with errors', {
      file: text(p, 'fileName'),
      rows: text(p, 'rows'),
      faults: text(p, 'withErrors'),
    }),
  'exchange.import-begun': (p) => say('began to import {file}', { file: text(p, 'fileName') }),
  'exchange.import-cancelled': (p) => say('cancelled the import of {file}', { file: text(p, 'fileName') }),
  'exchange.import-ended': (p) =>
    say('imported {file}: {made} made, {failed} not taken', {
      file: text(p, 'fileName'),
      made: text(p, 'made'),
      failed: text(p, 'failed'),
    }),
  'exchange.import-undo-begun': (p) =>
    say('began to take the import of {file} back', { file: text(p, 'fileName') }),
  'exchange.import-undone': (p) =>
    say('took the import of {file} back: {gone} gone, {kept} kept', {
      file: text(p, 'fileName'),
      gone: text(p, 'takenBack'),
      kept: text(p, 'kept'),
    }),
  'catalogue.exported': () => say('saved a search result as a file'),
  'catalogue.view-saved': (p) => say('saved the view “{name}”', { name: text(p, 'name') }),
  'catalogue.view-removed': (p) => say('removed the view “{name}”', { name: text(p, 'name') }),
  'permits.list-imported': (p) =>
    say('imported the list {list}, {names} names', { list: text(p, 'list'), names: text(p, 'names') }),
  'permits.status-decided': (p) =>
    say('decided that {name} is {status}', { name: text(p, 'name'), status: code(p, 'status') }),
  'permits.decision-withdrawn': (p) => say('took back the decision on {name}', { name: text(p, 'name') }),
  'places.added': (p) => say('added the place {name}', { name: text(p, 'name') }),
  'places.changed': (p) => say('changed the place {name}', { name: text(p, 'name') }),
  'salvage.withdrawn': () => say('withdrew the report'),
  'salvage.coverage-rechecked': (p) =>
    say('had {records} records checked anew, {changed} changed', {
      records: text(p, 'records'),
      changed: text(p, 'changed'),
    }),
  'salvage.slip-made': (p) => say('made the drop-off slip {slip}', { slip: text(p, 'slip') }),
  'salvage.slip-revoked': (p) => say('ended the drop-off slip {slip}', { slip: text(p, 'slip') }),
  'taxa.checklist-handed-in': () => say('handed in a checklist'),
  'taxa.checklist-read': () => say('read the checklist'),
  'taxa.checklist-failed': () => say('could not read the checklist'),
  'taxa.checklist-made-current': () => say('made the checklist the current one'),
  'taxa.name-carried': () => say('carried a name over to the new checklist'),
  'taxa.sensitivity-changed': () => say('changed whether its places are sensitive'),
};
