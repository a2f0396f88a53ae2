import { Client } from 'pg';
import { verifyAllChains } from '@/lib/audit/public';
import type { ChainAnchor } from '@/lib/audit/schema';
import { askInvariants } from '@/lib/ops/verify';
import { closeDb } from '@/lib/platform/db';
import type { Dice } from '@/seed/scenario/random';
import type { Stand } from './stand';
import { type Acknowledged, type Step, Story } from './stories';

const AT_ONCE = 4;
const KILLS = ['database', 'database-first-process', 'database-one-process', 'web'] as const;

/** Numbers that were given, and records that carry them: the same count, or one was lost or given twice. */
const NUMBERS = `SELECT n.kind, sum(n.next - 1)::int AS given, max(CASE n.kind
    WHEN 'salvage' THEN (SELECT count(DISTINCT number)::int FROM "SalvageRecord")
    ELSE (SELECT count(DISTINCT number)::int FROM "Accession") END) AS carried
  FROM "NumberSequence" n WHERE n.kind IN ('salvage', 'accession') GROUP BY n.kind`;

export type Durability = {
  kills: Map<string, number>;
  sent: number;
  acknowledged: number;
  /** Sent and not answered when something was killed. */
  inDoubt: number;
  /** Of those, how many had been carried out all the same. */
  carriedOut: number;
  backMs: number[];
  faults: string[];
};

/**
 * Kills processes at random moments of writes that span tables, starts them again, and asks each time: are all
 * invariants true, is every audit chain whole from every end seen so far, is each acknowledged write there, is each
 * write in doubt carried out once when it is sent again.
 */
export async function tryDurability(
  kills: number,
  {
    stand,
    cookie,
    personId,
    dice,
    say,
  }: { stand: Stand; cookie: string; personId: string; dice: Dice; say: (text: string) => void },
): Promise<Durability> {
  const found: Durability = {
    kills: new Map(),
    sent: 0,
    acknowledged: 0,
    inDoubt: 0,
    carriedOut: 0,
    backMs: [],
    faults: [],
  };
  const taxonId = (
    await rowsOf(stand, `SELECT id FROM "Taxon" WHERE "scientificName" = 'Turdus migratorius'`)
  )[0]?.id as string;
  let serial = 0;
  const newStory = () => {
    serial += 1;
    return new Story({ taxonId, personId, serial });
  };
  const stories = Array.from({ length: AT_ONCE }, newStory);
  const kept: Acknowledged[] = [];
  const anchors: ChainAnchor[] = [];
  for (let done = 0; done < kills; done += 1) {
    let killed = false;
    const writers = stories.map(async (_, index) => {
      while (!killed) {
        if (stories[index]?.isFinished) stories[index] = newStory();
        const story = stories[index] as Story;
        const answer = await send(stand, cookie, story.next, found);
        if (answer === null) return;
        kept.push(story.take(answer));
      }
    });
    await pause(dice.between(15, 400));
    const kind = dice.pick(KILLS);
    found.kills.set(kind, (found.kills.get(kind) ?? 0) + 1);
    const startedAt = performance.now();
    killed = true;
    if (kind === 'web') await stand.killWeb();
    else {
      const which = {
        database: 'all',
        'database-first-process': 'first',
        'database-one-process': 'one',
      } as const;
      await stand.killDatabase(which[kind], (count) => dice.between(0, Math.max(0, count - 1)));
    }
    await Promise.all(writers);
    await untilAnswered(stand, cookie);
    found.backMs.push(performance.now() - startedAt);
    await check(stand, kept, anchors, found);
    for (const story of stories)
      if (!story.isFinished && story.next.times > 0) await finishDoubtful(stand, cookie, story, kept, found);
    if ((done + 1) % 20 === 0)
      say(`${done + 1} kills, ${found.acknowledged} acknowledged writes, ${found.faults.length} faults`);
    if (found.faults.length > 20) break;
  }
  await check(stand, kept, anchors, found);
  return found;
}

/** One command; null when there was no answer or the server could not carry it out just now. */
async function send(
  stand: Stand,
  cookie: string,
  step: Step,
  found: Durability,
): Promise<Record<string, unknown> | null> {
  step.times += 1;
  found.sent += 1;
  try {
    const answer = await fetch(`${stand.address}${step.path}`, {
      method: 'POST',
      headers: { cookie, 'content-type': 'application/json', 'idempotency-key': step.key },
      body: JSON.stringify(step.body),
      signal: AbortSignal.timeout(30_000),
    });
    const body = (await answer.json()) as Record<string, unknown>;
    if (answer.ok) {
      found.acknowledged += 1;
      return body;
    }
    if (answer.status < 500)
      found.faults.push(`${step.name} was refused: ${JSON.stringify(body).slice(0, 400)}`);
  } catch {
    // The connection broke: whether it was carried out is in doubt.
  }
  return null;
}

/** Sends a step that got no answer again, under its key, and sees whether it had been carried out before. */
async function finishDoubtful(
  stand: Stand,
  cookie: string,
  story: Story,
  kept: Acknowledged[],
  found: Durability,
): Promise<void> {
  const step = story.next;
  const before = await rowsOf(stand, `SELECT key FROM "IdempotencyKey" WHERE key = '${step.key}'`);
  found.inDoubt += 1;
  found.carriedOut += before.length;
  const answer = await send(stand, cookie, step, found);
  if (answer === null) found.faults.push(`${step.name} could not be finished after everything ran again`);
  else kept.push(story.take(answer));
}

async function check(
  stand: Stand,
  kept: readonly Acknowledged[],
  anchors: ChainAnchor[],
  found: Durability,
): Promise<void> {
  for (const { says, broken } of await askInvariants(stand.databaseUrl))
    if (broken > 0) found.faults.push(`${broken} rows break: ${says}`);
  for (const { kind, given, carried } of await rowsOf(stand, NUMBERS))
    if (given !== carried)
      found.faults.push(`${given} ${kind} numbers were given and ${carried} are carried`);
  await closeDb();
  for (const { collectionId, ok, rows, head, firstBad } of await verifyAllChains(anchors)) {
    if (!ok) found.faults.push(`audit chain: ${firstBad?.seq} ${firstBad?.why}`);
    else anchors.push({ collectionId, seq: rows, digest: head, source: 'an earlier check' });
  }
  await closeDb();
  const client = new Client({ connectionString: stand.databaseUrl });
  await client.connect();
  const { rows: keys } = await client.query<{ key: string }>(
    `SELECT key FROM "IdempotencyKey" WHERE key = ANY($1)`,
    [kept.map(({ key }) => key)],
  );
  const there = new Set(keys.map(({ key }) => key));
  for (const { step, key } of kept)
    if (!there.has(key)) found.faults.push(`the answer to an acknowledged "${step}" was not kept`);
  // Every one of the newest, and the first again: the ones before were asked about after earlier kills.
  for (const { step, sql, values } of [...kept.slice(0, 3), ...kept.slice(-60)]) {
    const rows = await client.query(sql, values);
    if (rows.rowCount !== 1)
      found.faults.push(`an acknowledged "${step}" is not there: ${JSON.stringify(values)}`);
  }
  await client.end();
}

/** Until a read goes through, and all connections the server keeps have been tried. */
async function untilAnswered(stand: Stand, cookie: string): Promise<void> {
  let inARow = 0;
  for (let tries = 0; tries < 600 && inARow < AT_ONCE; tries += 1) {
    const ok = await fetch(`${stand.address}/api/accessions?size=1`, { headers: { cookie } })
      .then(async (answer) => {
        await answer.arrayBuffer();
        return answer.ok;
      })
      .catch(() => false);
    inARow = ok ? inARow + 1 : 0;
    if (!ok) await pause(50);
  }
}

async function rowsOf(stand: Stand, sql: string): Promise<Record<string, unknown>[]> {
  const client = new Client({ connectionString: stand.databaseUrl });
  await client.connect();
  const { rows } = await client.query<Record<string, unknown>>(sql);
  await client.end();
  return rows;
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** A few lines for a person. */
export function describeDurability({
  kills,
  sent,
  acknowledged,
  inDoubt,
  carriedOut,
  backMs,
  faults,
}: Durability): string[] {
  const sorted = [...backMs].sort((a, b) => a - b);
  const seconds = (at: number) =>
    ((sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * at))] ?? 0) / 1000).toFixed(1);
  return [
    `${backMs.length} kills: ${[...kills].map(([kind, times]) => `${kind} ${times}`).join(', ')}`,
    `${sent} writes sent, ${acknowledged} acknowledged and all there; ${inDoubt} without an answer, of which ${carriedOut} had been carried out; each finished once when sent again`,
    `serving again after ${seconds(0.5)} s (median), ${seconds(1)} s (longest)`,
    ...faults.map((fault) => `FAULT ${fault}`),
  ];
}
