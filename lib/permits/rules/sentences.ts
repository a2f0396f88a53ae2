import { phrases } from '@/lib/platform/words/say';
import type { PermitClause, PlaceSelector, TaxonSelector, YearBasis } from '../permit-schema';

const joinWords = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

const plain = (word: string): string => word.replaceAll('-', ' ');

/** 'all birds', 'the family Turdidae', 'Turdus migratorius', 'the names on list us-17.11'. */
export function sayTaxon(selector: TaxonSelector): string {
  switch (selector.by) {
    case 'all':
      return 'all birds';
    case 'order':
    case 'family':
    case 'genus':
      return `the ${selector.by} ${selector.name}`;
    case 'name':
      return selector.name;
    case 'list':
      return `the names on list ${selector.listId}`;
  }
}

const sayTaxa = (taxa: readonly TaxonSelector[]): string => joinWords(taxa.map(sayTaxon));

export const sayPlace = ({ within, counties }: PlaceSelector): string =>
  counties === undefined ? within : `${joinWords(counties)} (${within})`;

export function sayYear(year: YearBasis): string {
  if (year.basis === 'calendar') return 'calendar year';
  return year.basis === 'permit' ? 'year of the permit' : `year beginning on ${year.startsOn}`;
}

const WHO = {
  holder: 'the holder',
  'sub-permittees': 'the named sub-permittees',
  'under-direct-control': 'people under the holder’s direct control',
  anyone: 'anyone',
} as const;

const AFTER = {
  expiry: 'the permit expires',
  acquisition: 'the bird is acquired',
  'calendar-year': 'the end of the calendar year',
} as const;

const count = (number: number, noun: string) => `${number} ${noun}${number === 1 ? '' : 's'}`;

/** A clause as one sentence; the words of the document stand beside it. */
export function sayClause(clause: PermitClause): string {
  switch (clause.kind) {
    case 'taxa-allowed':
      return `Allows ${sayTaxa(clause.taxa)}.`;
    case 'taxa-excluded':
      return `Excludes ${sayTaxa(clause.taxa)}.`;
    case 'contact-first':
      return `Before ${sayTaxa(clause.taxa)}: contact ${clause.contact} first.`;
    case 'special-authorisation':
      return `Expressly authorises ${sayTaxa(clause.taxa)}.`;
    case 'specimen-types':
      return `Covers ${joinWords(clause.types.map((type) => `${plain(type)}${type === 'feathers' ? '' : 's'}`))}.`;
    case 'places':
      return `Holds in ${joinWords(clause.places.map(sayPlace))}.`;
    case 'quota':
      return `At most ${clause.maximum} of ${sayTaxa(clause.taxa)} in a ${sayYear(clause.year)}.`;
    case 'who-may-act':
      return `May be used by ${joinWords(clause.who.map((who) => WHO[who]))}.`;
    case 'tagging':
      return `Each tag says ${joinWords(clause.fields.map(plain))}.`;
    case 'transfer-within-days':
      return clause.after === 'found'
        ? `Handed over within ${count(clause.days, 'day')} of finding.`
        : `Specimens are transferred within ${count(clause.days, 'day')} after the permit expires.`;
    case 'report-due':
      return `Report for each ${sayYear(clause.year)}, due ${
        clause.due.rule === 'days-after'
          ? `${count(clause.due.days, 'day')} after its end`
          : `by ${clause.due.monthDay} after it`
      }.`;
    case 'record-retention':
      return `Records are kept for ${count(clause.years, 'year')} after ${AFTER[clause.after]}.`;
    case 'cataloguing-is-disposition':
      return clause.isDisposition
        ? 'Cataloguing a bird here counts as its disposition.'
        : 'A bird catalogued here is still on hand.';
    case 'grace':
      return `Finds until ${clause.until} stand in the grace between renewals${
        clause.renewalAppliedOn === null ? '' : `; the renewal was asked for on ${clause.renewalAppliedOn}`
      }.`;
  }
}

const CLAUSE_NAMES: Record<PermitClause['kind'], string> = phrases({
  'taxa-allowed': 'Birds allowed',
  'taxa-excluded': 'Birds excluded',
  'contact-first': 'Call first',
  'special-authorisation': 'Special authorisation',
  'specimen-types': 'Kinds of specimen',
  places: 'Places',
  quota: 'Quota',
  'who-may-act': 'Who may act',
  tagging: 'Tagging',
  'transfer-within-days': 'Days to hand over',
  'report-due': 'Report',
  'record-retention': 'Keeping records',
  'cataloguing-is-disposition': 'Cataloguing',
  grace: 'Grace between renewals',
});
export const nameClause = (kind: PermitClause['kind']): string => CLAUSE_NAMES[kind];
export const clauseKinds = Object.keys(CLAUSE_NAMES) as PermitClause['kind'][];
