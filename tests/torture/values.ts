import type { Dice } from '@/seed/scenario/random';

/** As much of a JSON Schema as zod writes of our routes. */
export type Schema = {
  type?: string | string[];
  format?: string;
  pattern?: string;
  const?: unknown;
  enum?: unknown[];
  anyOf?: Schema[];
  oneOf?: Schema[];
  allOf?: Schema[];
  properties?: Record<string, Schema>;
  required?: string[];
  additionalProperties?: Schema | boolean;
  propertyNames?: Schema;
  items?: Schema;
  prefixItems?: Schema[];
  minItems?: number;
  maxItems?: number;
  minLength?: number;
  maxLength?: number;
  minimum?: number;
  maximum?: number;
  $ref?: string;
  $defs?: Record<string, Schema>;
};

/** What strings of a pattern of ours look like: the first that fits is used. */
const SAMPLES = [
  '2025-03-04',
  '2025-03',
  '2025',
  '10:30',
  '2025-03-04T10:30:00Z',
  'A',
  'A1',
  'AB-12',
  '1',
  '12.5',
  'a',
  'abc',
  'A-1',
  '#336699',
  'en',
  'aa:bb',
  'F 2025 {0000}',
  '{year}-{n}',
  'key-1',
  'a'.repeat(64),
  'a.b',
  '01',
  '0'.repeat(6),
];

const DEEPEST = 6;

/** Makes values that fit a schema, mostly: enough to come past the first checks. */
export class Maker {
  constructor(
    private readonly dice: Dice,
    private readonly ids: readonly string[],
    private readonly root: Schema,
  ) {}

  make(schema: Schema = this.root, depth = 0): unknown {
    const { dice } = this;
    if (schema.$ref !== undefined)
      return depth > DEEPEST ? null : this.make(this.resolve(schema.$ref), depth + 1);
    if ('const' in schema) return schema.const;
    if (schema.enum !== undefined) return dice.pick(schema.enum);
    const choices = schema.anyOf ?? schema.oneOf;
    if (choices !== undefined) return this.make(dice.pick(choices), depth + 1);
    if (schema.allOf !== undefined)
      return this.make(Object.assign({}, schema, ...schema.allOf, { allOf: undefined }), depth);
    const type = Array.isArray(schema.type) ? dice.pick(schema.type) : schema.type;
    switch (type) {
      case 'object':
        return this.makeObject(schema, depth);
      case 'array':
        return this.makeArray(schema, depth);
      case 'integer':
      case 'number':
        return this.makeNumber(schema, type === 'integer');
      case 'boolean':
        return dice.next() < 0.5;
      case 'null':
        return null;
      case 'string':
        return this.makeString(schema);
      default:
        return dice.pick([null, 'text', 7, true, [], {}, this.makeString({ format: 'uuid' })]);
    }
  }

  private resolve(ref: string): Schema {
    return ref === '#' ? this.root : (this.root.$defs?.[ref.split('/').at(-1) ?? ''] ?? {});
  }

  private makeObject(schema: Schema, depth: number): Record<string, unknown> {
    const made: Record<string, unknown> = {};
    for (const [name, property] of Object.entries(schema.properties ?? {})) {
      const wanted = schema.required?.includes(name) || (depth < DEEPEST && this.dice.next() < 0.6);
      if (wanted) made[name] = this.make(property, depth + 1);
    }
    if (typeof schema.additionalProperties === 'object' && depth < DEEPEST) {
      for (let n = this.dice.between(0, 2); n > 0; n -= 1) {
        made[String(this.make(schema.propertyNames ?? { type: 'string' }, depth + 1))] = this.make(
          schema.additionalProperties,
          depth + 1,
        );
      }
    }
    return made;
  }

  private makeArray(schema: Schema, depth: number): unknown[] {
    if (schema.prefixItems !== undefined) return schema.prefixItems.map((item) => this.make(item, depth + 1));
    const low = schema.minItems ?? 0;
    const count =
      depth > DEEPEST ? low : this.dice.between(low, Math.min(schema.maxItems ?? low + 2, low + 2));
    return Array.from({ length: count }, () => this.make(schema.items ?? {}, depth + 1));
  }

  private makeNumber({ minimum = -100, maximum = 1000 }: Schema, isWhole: boolean): number {
    const low = Math.max(minimum, -1e6);
    const high = Math.min(Math.max(maximum, low), low + 1e4);
    const chosen = this.dice.pick([
      low,
      high,
      low + (high - low) * this.dice.next(),
      Math.min(high, low + 1),
    ]);
    return isWhole ? Math.round(chosen) : chosen;
  }

  private makeString({ format, pattern, minLength = 0, maxLength = 40 }: Schema): string {
    const { dice } = this;
    if (format === 'uuid') return dice.pick(this.ids);
    if (format === 'date') return `20${dice.between(20, 26)}-0${dice.between(1, 9)}-1${dice.between(0, 9)}`;
    if (format === 'date-time') return `202${dice.between(3, 6)}-03-1${dice.between(0, 9)}T10:00:00Z`;
    if (format === 'email') return `somebody${dice.between(1, 1e6)}@test.example`;
    if (format === 'uri') return 'https://test.example/';
    if (pattern !== undefined) {
      const fit = new RegExp(pattern, 'u');
      const found = SAMPLES.filter((sample) => fit.test(sample));
      if (found.length > 0) return dice.pick(found);
    }
    const word = dice.pick([
      'a bird',
      'Turdus migratorius',
      '12',
      'Müller ♂',
      '2025-03-04',
      'x',
      '40.1 -83.2',
      'RB-1',
    ]);
    return word.padEnd(minLength, 'x').slice(0, Math.max(minLength, Math.min(maxLength, 60)));
  }
}

/** Text as an address can carry it: halves of a pair become the mark for what cannot be shown. */
export const wellFormed = (text: string): string => text.replace(/\p{Surrogate}/gu, '\ufffd');

const TIMES_TEN = 100_000;

/** Texts that programs and databases stumble over. */
export const BAD_TEXTS: readonly string[] = [
  '',
  ' ',
  '\u0000',
  'a\u0000b',
  '\ud800',
  'x\udfff',
  '\u001f',
  '\u202e',
  '\ufeff',
  '\u2028',
  'é'.repeat(3),
  '👩‍👩‍👧',
  'İ',
  'x'.repeat(300),
  'x'.repeat(10_000),
  '0'.repeat(400),
  '9'.repeat(TIMES_TEN / 10),
  '\'; DROP TABLE "Bird"; --',
  '" OR 1=1',
  '../../etc/passwd',
  '%',
  '_',
  '%%%',
  '\\',
  '\\u0000',
  '{',
  '(',
  '[',
  '*',
  '+',
  '?',
  ':*',
  'a & | b',
  "a'b",
  '<->',
  '!',
  '--',
  '2025-02-30',
  '2025-13-45',
  '0000-00-00',
  '99999-01-01',
  '-000001-01-01',
  '1e9-01-01',
  '2025-01-01T25:61:61Z',
  '9999-12-31',
  '0001-01-01',
  '275760-09-13',
  'NaN',
  'Infinity',
  '-Infinity',
  '1e309',
  '1e400',
  '-1',
  '0',
  '-0',
  '1.5',
  '0x10',
  '1_000',
  '2147483647',
  '2147483648',
  '-2147483649',
  '9007199254740993',
  '9223372036854775808',
  '99999999999999999999',
  'null',
  'true',
  'undefined',
  '[]',
  '{}',
  '__proto__',
  'constructor',
  'toString',
  '<script>alert(1)</script>',
  '{{7*7}}',
  '$' + '{7*7}',
  '\r\nx: y',
  '00000000-0000-0000-0000-000000000000',
  'ffffffff-ffff-ffff-ffff-ffffffffffff',
  '{00000000-0000-7000-8000-000000000000}',
];

/** Pages' cursors that nobody wrote: base64url of JSON of the wrong kind. */
const BAD_CURSORS = [
  [0, 0],
  [1, 'x'],
  [1e15, 1.5],
  ['2025-02-30T00:00:00Z'],
  ['0000-01-01T00:00:00.000Z'],
  ['9999-12-31T23:59:59.999Z'],
  ['9999-12-31'],
  [1, '2025-02-30T00:00:00Z'],
  [],
  [null],
  [1],
  ['x'],
  [1, 2],
  ['x', 'y'],
  ['\u0000', 'x'],
  [1e308],
  [-1],
  [1.5],
  [9e15],
  {},
  'x',
  null,
]
  .flatMap((value) => [
    value,
    Array.isArray(value) ? [...value, '00000000-0000-7000-8000-000000000000'] : value,
  ])
  .map((value) => Buffer.from(JSON.stringify(value)).toString('base64url'));

const BAD_VALUES: readonly unknown[] = [
  null,
  true,
  false,
  0,
  -0,
  -1,
  1.5,
  1e21,
  1e308,
  -1e308,
  1e-320,
  2147483647,
  2147483648,
  -2147483649,
  9007199254740992,
  [],
  {},
  [[]],
  [null],
  [{}],
  { id: 1 },
  JSON.parse('{"__proto__": {"a": 1}}'),
  { constructor: { prototype: {} } },
  Array.from({ length: 500 }, (_, index) => index),
  Object.fromEntries(Array.from({ length: 200 }, (_, n) => [`k${n}`, n])),
];

export function badText(dice: Dice): string {
  return dice.next() < 0.12 ? dice.pick(BAD_CURSORS) : dice.pick(BAD_TEXTS);
}

export function badValue(dice: Dice): unknown {
  if (dice.next() < 0.5) return badText(dice);
  if (dice.next() < 0.03) return nest(dice.pick([20, 2_000]));
  return structuredClone(dice.pick(BAD_VALUES));
}

function nest(depth: number): unknown {
  let value: unknown = 1;
  for (let n = 0; n < depth; n += 1) value = n % 2 === 0 ? [value] : { a: value };
  return value;
}

/** Puts bad values at one to three places of a value, takes keys away, adds some. Returns a changed copy. */
export function spoil(dice: Dice, value: unknown): unknown {
  let spoiled = structuredClone(value);
  for (let times = dice.between(1, 3); times > 0; times -= 1) spoiled = spoilOnce(dice, spoiled, 0);
  return spoiled;
}

function spoilOnce(dice: Dice, value: unknown, depth: number): unknown {
  const isBranch = typeof value === 'object' && value !== null;
  const keys = isBranch ? Object.keys(value) : [];
  if (!isBranch || keys.length === 0 || dice.next() < 0.06 || depth > 5) return badValue(dice);
  const key = dice.pick(keys);
  const branch = value as Record<string, unknown>;
  const chance = dice.next();
  if (chance < 0.1 && !Array.isArray(value)) delete branch[key];
  else if (chance < 0.16 && !Array.isArray(value)) branch[badText(dice)] = badValue(dice);
  else if (chance < 0.2 && Array.isArray(value)) for (let n = 0; n < 60; n += 1) value.push(value[0]);
  else branch[key] = spoilOnce(dice, branch[key], depth + 1);
  return value;
}
