import { z } from 'zod';
import { say } from '@/lib/platform/words/say';

/** The running numbers that an institution words for itself. A permit's number is its authority's own. */
export const NUMBER_KINDS = ['salvage', 'accession', 'preparation', 'catalogue', 'loan'] as const;
export type NumberKind = (typeof NUMBER_KINDS)[number];

/** Start values; each is a setting. */
export const DEFAULT_TEMPLATES: Record<NumberKind, string> = {
  salvage: 'SB-{year}-{n:4}',
  accession: 'ACC-{year}-{n:3}',
  preparation: '{initials} {n}',
  catalogue: 'B-{n:6}',
  loan: 'L-{year}-{n:3}',
};

/** What a template's fields stand for; `n` is always needed. */
export type NumberValues = { n: number; year?: number; month?: number; initials?: string };

type Field = 'year' | 'yy' | 'month' | 'initials' | 'n';
type Part = { literal: string } | { field: Field; width: number };

const FIELDS: readonly string[] = ['year', 'yy', 'month', 'initials', 'n'];
const MAX_TEMPLATE = 40;
const MAX_ZEROS = 9;
/** Printable in every code we make, and safe in a file name once slashes are replaced. */
const LITERAL = /^[A-Za-z0-9 ./_:#-]*$/;

export type TemplateProblem = { code: string; message: string };

function splitTemplate(template: string): { parts: Part[]; problems: TemplateProblem[] } {
  const parts: Part[] = [];
  const problems: TemplateProblem[] = [];
  for (const token of template.match(/\{[^{}]*\}|[^{}]+|[{}]/g) ?? []) {
    if (!token.startsWith('{') && token !== '}') {
      parts.push({ literal: token });
      continue;
    }
    const match = /^\{([a-z]+)(?::(\d{1,2}))?\}$/.exec(token);
    const [, field = '', zeros] = match ?? [];
    const width = zeros === undefined ? 1 : Number(zeros);
    if (!FIELDS.includes(field)) {
      problems.push({
        code: 'unknown-field',
        message: say('“{token}” is not a field. Fields: {fields}.', { token, fields: FIELDS.join(', ') }),
      });
    } else if (zeros !== undefined && (field !== 'n' || width < 1 || width > MAX_ZEROS)) {
      problems.push({
        code: 'bad-width',
        message: say('“{token}”: only {n} takes zeros, 1 to {maxZeros}.', { token, maxZeros: MAX_ZEROS }),
      });
    } else {
      parts.push({ field: field as Field, width });
    }
  }
  return { parts, problems };
}

const has = (parts: readonly Part[], field: Field) =>
  parts.some((part) => 'field' in part && part.field === field);

/** What is wrong with a number template, empty when it can be used. */
export function checkTemplate(template: string): TemplateProblem[] {
  const { parts, problems } = splitTemplate(template);
  const counts = new Map<string, number>();
  for (const part of parts) if ('field' in part) counts.set(part.field, (counts.get(part.field) ?? 0) + 1);
  if ((counts.get('n') ?? 0) === 0 && problems.length === 0)
    problems.push({ code: 'no-number', message: say('A template needs {n}, the running number.') });
  for (const [field, count] of counts)
    if (count > 1)
      problems.push({
        code: 'twice',
        message: say('{{field}} stands there {count} times.', { field, count }),
      });
  if (has(parts, 'year') && has(parts, 'yy'))
    problems.push({ code: 'twice', message: say('Use {year} or {yy}, not both.') });
  if (has(parts, 'month') && !has(parts, 'year') && !has(parts, 'yy'))
    problems.push({
      code: 'month-alone',
      message: say('{month} needs {year} or {yy}: the months come round again.'),
    });
  for (const part of parts)
    if ('literal' in part && !LITERAL.test(part.literal))
      problems.push({
        code: 'bad-character',
        message: say('“{literal}” has a character that a label code cannot hold.', { literal: part.literal }),
      });
  if (template !== template.trim() || /\s{2}/.test(template))
    problems.push({ code: 'spaces', message: say('No space at either end and no two in a row.') });
  if (template.length > MAX_TEMPLATE)
    problems.push({
      code: 'too-long',
      message: say('At most {maxTemplate} characters.', { maxTemplate: MAX_TEMPLATE }),
    });
  problems.push(...unclearJoins(parts));
  return problems;
}

/** Initials next to a letter, or two parts of open length side by side, could be read in two ways. */
function unclearJoins(parts: readonly Part[]): TemplateProblem[] {
  const isOpen = (part: Part | undefined) =>
    part !== undefined && 'field' in part && (part.field === 'initials' || part.field === 'n');
  const endsIn = (part: Part | undefined, side: 'start' | 'end', pattern: RegExp) =>
    part !== undefined &&
    'literal' in part &&
    pattern.test((side === 'start' ? part.literal.at(0) : part.literal.at(-1)) ?? '');
  return parts.flatMap((part, at) => {
    if (!isOpen(part) || !('field' in part)) return [];
    const clash = part.field === 'initials' ? /[A-Za-z]/ : /\d/;
    const before = parts[at - 1];
    const after = parts[at + 1];
    const unclear = endsIn(before, 'end', clash) || endsIn(after, 'start', clash);
    const message = say(
      'Put a separator beside {{field}}: otherwise it cannot be told from what stands next to it.',
      { field: part.field },
    );
    return unclear ? [{ code: 'unclear-join', message }] : [];
  });
}

function partsOf(template: string): Part[] {
  const problems = checkTemplate(template);
  if (problems.length > 0) throw new RangeError(`Number template “${template}”: ${problems[0]?.message}`);
  return splitTemplate(template).parts;
}

/** A template as a setting: refused with every reason it cannot be used. */
export const numberTemplateSchema = z.string().superRefine((template, context) => {
  for (const { message } of checkTemplate(template)) context.addIssue({ code: 'custom', message });
});

function fieldText(part: { field: Field; width: number }, values: NumberValues): string {
  const need = <T>(value: T | undefined): T => {
    if (value === undefined) throw new RangeError(`This number needs a value for {${part.field}}.`);
    return value;
  };
  switch (part.field) {
    case 'n':
      return String(values.n).padStart(part.width, '0');
    case 'year':
      return String(need(values.year)).padStart(4, '0');
    case 'yy':
      return String(need(values.year) % 100).padStart(2, '0');
    case 'month':
      return String(need(values.month)).padStart(2, '0');
    case 'initials':
      return need(values.initials).toUpperCase();
  }
}

/**
 * The number as it is printed. `n` counts from 1; `{n:4}` fills with zeros to four figures and simply grows beyond.
 * @throws RangeError for an unusable template, a missing value, or one out of its range.
 */
export function formatNumber(template: string, values: NumberValues): string {
  const { n, year, month, initials } = values;
  if (!Number.isSafeInteger(n) || n < 1) throw new RangeError(`A running number starts at 1, not ${n}.`);
  if (year !== undefined && !(Number.isInteger(year) && year >= 1000 && year <= 9999))
    throw new RangeError(`Year ${year} has not four figures.`);
  if (month !== undefined && !(Number.isInteger(month) && month >= 1 && month <= 12))
    throw new RangeError(`Month ${month}.`);
  if (initials !== undefined && !/^[A-Za-z]{1,5}$/.test(initials))
    throw new RangeError(`Initials are one to five letters A–Z, not “${initials}”.`);
  return partsOf(template)
    .map((part) => ('literal' in part ? part.literal : fieldText(part, values)))
    .join('');
}

const escapePattern = (text: string) => text.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&').replace(/ /g, '\\s+');

function fieldPattern(part: { field: Field; width: number }): string {
  switch (part.field) {
    case 'n':
      return '(?<n>\\d{1,15})';
    case 'year':
      return '(?<year>[1-9]\\d{3})';
    case 'yy':
      return '(?<yy>\\d{2})';
    case 'month':
      return '(?<month>0[1-9]|1[0-2])';
    case 'initials':
      return '(?<initials>[A-Za-z]{1,5})';
  }
}

/**
 * Reads a number as typed or scanned: any letter case, leading zeros may be missing. Null when it is of another form.
 * `canonical` is how the number is written everywhere; a two-figure year gives the last two figures only (`yy`).
 */
export function parseNumber(
  template: string,
  text: string,
): { n: number; year?: number; yy?: number; month?: number; initials?: string; canonical: string } | null {
  const parts = partsOf(template);
  const pattern = parts
    .map((part) => ('literal' in part ? escapePattern(part.literal) : fieldPattern(part)))
    .join('');
  const groups = new RegExp(`^${pattern}$`, 'i').exec(text.trim())?.groups;
  if (groups === undefined) return null;
  const number = (key: string) => (groups[key] === undefined ? undefined : Number(groups[key]));
  const n = number('n') ?? 0;
  if (n < 1) return null;
  const yy = number('yy');
  const month = number('month');
  const initials = groups.initials?.toUpperCase();
  const year = number('year');
  const canonical = formatNumber(template, {
    n,
    year: year ?? (yy === undefined ? undefined : 2000 + yy),
    month,
    initials,
  });
  return {
    n,
    ...(year === undefined ? {} : { year }),
    ...(yy === undefined ? {} : { yy }),
    ...(month === undefined ? {} : { month }),
    ...(initials === undefined ? {} : { initials }),
    canonical,
  };
}

/**
 * The scope within which a template's running number counts: '' for one series without end, '2024' where it starts
 * anew each year, 'AK' for a preparator's own series. Key of the row that the database counts in.
 */
export function numberScope(template: string, values: Omit<NumberValues, 'n'>): string {
  const parts = partsOf(template);
  const scope: string[] = [];
  for (const field of ['year', 'yy', 'month', 'initials'] as const)
    if (has(parts, field)) scope.push(fieldText({ field, width: 1 }, { ...values, n: 1 }));
  return scope.join('/');
}

/**
 * Pairs of kinds whose numbers could be mistaken for each other, so that a scan or a search would find two things.
 * @param templates one a kind
 */
export function findConfusableKinds(templates: Record<NumberKind, string>): [NumberKind, NumberKind][] {
  const samples: NumberValues[] = [1, 37, 2024, 123456].map((n) => ({
    n,
    year: 2024,
    month: 7,
    initials: 'AK',
  }));
  const readable = (reader: NumberKind, writer: NumberKind) =>
    samples.some(
      (sample) => parseNumber(templates[reader], formatNumber(templates[writer], sample)) !== null,
    );
  return NUMBER_KINDS.flatMap((first, at) =>
    NUMBER_KINDS.slice(at + 1)
      .filter((second) => readable(first, second) || readable(second, first))
      .map((second): [NumberKind, NumberKind] => [first, second]),
  );
}

/** A material's number: the bird's own (salvage before approval, catalogue after it) and the material's suffix. */
export const materialNumber = (birdNumber: string, suffix: string): string => `${birdNumber}-${suffix}`;

/** Splits a material's number into the bird's number and the suffix; null when no suffix stands at its end. */
export function splitMaterialNumber(text: string): { birdNumber: string; suffix: string } | null {
  const match = /^(.+)-([A-Za-z]{1,3}\d{0,3}(?:\.\d{1,3})*)$/.exec(text.trim());
  return match?.[1] && match[2] ? { birdNumber: match[1], suffix: match[2].toUpperCase() } : null;
}
