import type { Pool } from 'pg';
import type { Actor } from '@/lib/platform/actor';
import type { Act } from './acts';
import { recordStatements, type Statement } from './statements';

/** A node of PostgreSQL's plan, as EXPLAIN (FORMAT JSON) writes it. */
type Node = { 'Node Type': string; 'Relation Name'?: string; 'Index Name'?: string; Plans?: Node[] };

export type Plan = { text: string; node: Node };

/** What the planner would do for each statement that a read sends now, in order. */
export async function plansOf(pool: Pool, act: Act, actor: Actor): Promise<Plan[]> {
  const plans: Plan[] = [];
  for (const statement of await recordStatements(() => act.call(actor, 0)))
    plans.push({ text: statement.text, node: await explain(pool, statement) });
  return plans;
}

async function explain(pool: Pool, { text, values }: Statement): Promise<Node> {
  const { rows } = await pool.query<{ 'QUERY PLAN': [{ Plan: Node }] }>(
    `EXPLAIN (FORMAT JSON) ${text}`,
    values,
  );
  const plan = rows[0]?.['QUERY PLAN'][0].Plan;
  if (plan === undefined) throw new Error(`PostgreSQL explained nothing for ${text}`);
  return plan;
}

const isStep = (node: Node): boolean =>
  node['Relation Name'] !== undefined || node['Index Name'] !== undefined;

/** The tables and indexes that a plan reads, in its order: "Index Scan of Bird by Bird_pkey". */
export function stepsOf(node: Node): string[] {
  const relation = node['Relation Name'] === undefined ? '' : ` of ${node['Relation Name']}`;
  const index = node['Index Name'] === undefined ? '' : ` by ${node['Index Name']}`;
  const own = isStep(node) ? [`${node['Node Type']}${relation}${index}`] : [];
  return [...own, ...(node.Plans ?? []).flatMap(stepsOf)];
}

/** Tables that a plan reads from end to end. */
export function readWhole(node: Node): string[] {
  const own = node['Node Type'] === 'Seq Scan' ? [node['Relation Name'] ?? 'something'] : [];
  return [...own, ...(node.Plans ?? []).flatMap(readWhole)];
}

/** Tables of so many rows that reading one whole is felt. */
export async function largeTables(pool: Pool, rows: number): Promise<Set<string>> {
  const found = await pool.query<{ relname: string }>(
    `SELECT relname FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND reltuples >= $1`,
    [rows],
  );
  return new Set(found.rows.map(({ relname }) => relname));
}

/** The plans of one read as a section of the readable file; the same plan twice stands once. */
export function sayPlans(act: Act, plans: readonly Plan[]): string {
  const lines = plans.map(({ node }) => stepsOf(node).join('; ') || 'no table');
  const counted = [...new Set(lines)].map((line) => {
    const times = lines.filter((one) => one === line).length;
    return `- ${line}${times > 1 ? ` (${times} times)` : ''}`;
  });
  return [`## ${act.name}`, '', `${plans.length} statements.`, '', ...counted, ''].join('\n');
}
