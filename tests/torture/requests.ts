import { z } from 'zod';
import type { RouteDescription } from '@/lib/platform/http';
import { may, type Permission, ROLES, type Role } from '@/lib/platform/permissions';
import type { Dice } from '@/seed/scenario/random';
import { BAD_TEXTS, badText, Maker, type Schema, spoil, wellFormed } from './values';

export type Target = { folder: string; method: string; route: RouteDescription };

/** One request, before it is sent: in the process or over the network. */
export type Plan = {
  target: Target;
  role: Role;
  params: Record<string, string>;
  /** Path and query. */
  address: string;
  headers: Record<string, string>;
  body: string | Uint8Array | undefined;
};

/** Ids of rows by table, so that many requests find a record. */
export type Ids = ReadonlyMap<string, readonly string[]>;

const NOWHERE = '00000000-0000-7000-8000-000000000000';

/** Tables whose ids the addresses of a stage hold. */
const TABLES: Record<string, readonly string[]> = {
  accessions: ['Accession', 'SalvageRecord'],
  attachments: ['Attachment', 'Bird'],
  bench: ['BenchRecord', 'Bird'],
  catalogue: ['CatalogueEntry', 'Bird', 'BenchRecord'],
  desk: ['Bird'],
  exchange: ['ImportRun', 'ApiToken', 'Person'],
  history: ['Bird'],
  labels: ['Material', 'Bird', 'StorageUnit'],
  loans: ['Loan', 'LoanLine', 'Borrower', 'Material'],
  materials: ['Material', 'Bird'],
  people: ['Person'],
  permits: ['Permit', 'RulePack', 'Taxon'],
  places: ['Place'],
  queue: ['Bird', 'DayPlan', 'Person'],
  reports: ['PermitReport', 'Permit'],
  salvage: ['SalvageRecord', 'Hold', 'Permit', 'Taxon'],
  skeletons: ['Material', 'Bird', 'BoneQuestion'],
  skins: ['Material'],
  storage: ['StorageUnit', 'Material', 'InventorySession'],
  taxa: ['Taxon', 'Checklist'],
  tissues: ['Vial', 'Bird', 'Material'],
};

const toSchema = (schema: z.ZodType | undefined): Schema | undefined =>
  schema && (z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Schema);

/** Makes requests for a set of routes: the same ones for the same dice. */
export class Requests {
  private readonly schemas = new Map<Target, { params?: Schema; query?: Schema; body?: Schema | 'file' }>();

  constructor(
    private readonly dice: Dice,
    private readonly targets: readonly Target[],
    private readonly ids: Ids,
  ) {
    for (const target of targets) {
      const { params, query, body } = target.route.schemas ?? {};
      this.schemas.set(target, {
        params: toSchema(params),
        query: toSchema(query),
        body: body === 'file' ? body : toSchema(body),
      });
    }
  }

  next(): Plan {
    const { dice } = this;
    const target = dice.pick(this.targets);
    const schemas = this.schemas.get(target) ?? {};
    const ids = this.idsFor(target);
    const params = this.makeParams(target, ids);
    const query = this.makeQuery(schemas.query, ids);
    return {
      target,
      role: this.chooseRole(target),
      params,
      address: `${this.fillPath(target.folder, params)}${query}`,
      ...this.makeBody(schemas.body, ids),
    };
  }

  private idsFor({ folder }: Target): string[] {
    const stage = folder.split('/')[1] ?? '';
    const near = (TABLES[stage] ?? []).flatMap((table) => (this.ids.get(table) ?? []).slice(0, 12));
    const far = [...this.ids.values()].map((ids) => ids[0] ?? NOWHERE);
    return [...near, ...near, ...near, ...far, NOWHERE];
  }

  private chooseRole({ route }: Target): Role {
    const { permission } = route;
    const fitting = ROLES.filter(
      (role) => permission === 'public' || may({ personId: null, roles: [role] }, permission as Permission),
    );
    return this.dice.next() < 0.92 && fitting.length > 0 ? this.dice.pick(fitting) : this.dice.pick(ROLES);
  }

  private makeParams({ folder }: Target, ids: readonly string[]): Record<string, string> {
    const names = [...folder.matchAll(/\[(?:\.\.\.)?(\w+)\]/g)].map(([, name]) => name ?? '');
    return Object.fromEntries(
      names.map((name) => {
        const fitting =
          name === 'kind' ? this.dice.pick(['bird', 'vial', 'box', 'skin', 'slip']) : this.dice.pick(ids);
        const value = this.dice.next() < 0.85 ? fitting : badText(this.dice);
        // An address has no empty or dotted part, and only well-formed text.
        const part = wellFormed(value).slice(0, 500);
        return [name, /^\.*$/.test(part) ? NOWHERE : part];
      }),
    );
  }

  private fillPath(folder: string, params: Record<string, string>): string {
    return `/${folder.replace(/\[(?:\.\.\.)?(\w+)\]/g, (_, name: string) => encodeURIComponent(params[name] ?? ''))}`;
  }

  private makeQuery(schema: Schema | undefined, ids: readonly string[]): string {
    if (schema === undefined) return '';
    const fitting = new Maker(this.dice, ids, schema).make() as Record<string, unknown>;
    const pairs = Object.entries(fitting).map(([name, value]): [string, string] => [name, String(value)]);
    if (this.dice.next() < 0.6) {
      const names = Object.keys(schema.properties ?? {});
      for (let times = this.dice.between(1, 3); times > 0; times -= 1) {
        const name =
          names.length > 0 && this.dice.next() < 0.9 ? this.dice.pick(names) : this.dice.pick(BAD_TEXTS);
        pairs.push([name, badText(this.dice)]);
      }
    }
    if (pairs.length === 0) return '';
    const short = pairs.map(
      ([name, value]) => [name.slice(0, 200), value.slice(0, 3000)] as [string, string],
    );
    return `?${new URLSearchParams(short.map(([name, value]) => [wellFormed(name), wellFormed(value)]))}`;
  }

  private makeBody(
    schema: Schema | 'file' | undefined,
    ids: readonly string[],
  ): Pick<Plan, 'headers' | 'body'> {
    const { dice } = this;
    if (schema === undefined) return { headers: {}, body: undefined };
    if (schema === 'file')
      return { headers: { 'content-type': 'application/octet-stream' }, body: this.makeFile() };
    const headers: Record<string, string> = { 'content-type': 'application/json' };
    if (dice.next() < 0.15)
      headers['idempotency-key'] = dice.pick(['', 'a', 'x'.repeat(101), 'é', `${dice.between(1, 40)}`]);
    const fitting = new Maker(dice, ids, schema).make();
    if (dice.next() < 0.03) return { headers, body: this.makeRawText() };
    const body = JSON.stringify(dice.next() < 0.6 ? spoil(dice, fitting) : fitting);
    // A number that JSON can write and JavaScript cannot hold.
    return { headers, body: dice.next() < 0.03 ? body.replace(/:(-?\d+)/, ':1e999') : body };
  }

  private makeRawText(): string {
    const { dice } = this;
    return dice.pick([
      '',
      ' ',
      '{',
      'null',
      '"',
      '[]',
      '1',
      '{"a":1}{"b":2}',
      '\u0000',
      '{"a":',
      'NaN',
      '<xml/>',
      'a=b&c=d',
      '\ufeff{}',
      `[${'['.repeat(5_000)}`,
      `${'['.repeat(4_000)}${']'.repeat(4_000)}`,
      `"${'x'.repeat(1_100_000)}"`,
    ]);
  }

  private makeFile(): Uint8Array {
    const { dice } = this;
    const noise = () => Uint8Array.from({ length: dice.between(1, 3_000) }, () => dice.between(0, 255));
    const text = (value: string) => new TextEncoder().encode(value);
    return dice.pick([
      () => new Uint8Array(),
      noise,
      () => Uint8Array.from([0xff, 0xd8, 0xff, ...noise()]),
      () => Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, ...noise()]),
      () => Uint8Array.from([0x50, 0x4b, 0x03, 0x04, ...noise()]),
      () => text('%PDF-1.7\n%%EOF'),
      () => text(`number,taxon\n${badText(dice)},"${badText(dice)}`),
      () => text(`scientificName\ttaxonRank\n${badText(dice)}\t${badText(dice)}\n`),
      () => text(`time,celsius\n${badText(dice)},${badText(dice)}\n`),
      () => text(badText(dice)),
    ])();
  }
}
