import { beforeAll, describe, expect, it } from 'vitest';
import type { ChainAnchor } from '@/lib/audit/schema';
import { verifyAllChains, verifyChain } from '@/lib/audit/service';
import { db } from '@/lib/platform/db';
import { makeCollection } from '@/seed/factories';

const LENGTH = 12;

/** What somebody with every right to the server can do: statements with all triggers silent. */
async function tamper(...statements: string[]): Promise<void> {
  await db().$transaction(async (tx) => {
    await tx.$executeRawUnsafe('SET LOCAL session_replication_role = replica');
    for (const statement of statements) await tx.$executeRawUnsafe(statement);
  });
}

const append = (collectionId: string, count: number, actorName = 'Test') =>
  db().$executeRawUnsafe(
    `INSERT INTO "AuditEvent" (id, "collectionId", "actorName", "subjectType", "subjectId", kind, payload, reason)
     SELECT gen_random_uuid(), '${collectionId}', '${actorName}', 'bird', gen_random_uuid(), 'salvage.logged',
       jsonb_build_object('step', n), 'step ' || n FROM generate_series(1, ${count}) n`,
  );

async function makeChain(): Promise<string> {
  const collectionId = await makeCollection(db());
  await append(collectionId, LENGTH);
  expect(await verifyChain(collectionId)).toMatchObject({ ok: true, rows: LENGTH });
  return collectionId;
}

const anchorAt = async (collectionId: string, seq: number): Promise<ChainAnchor> => {
  const { digest } = await db().auditEvent.findUniqueOrThrow({
    where: { collectionId_seq: { collectionId, seq } },
  });
  return { collectionId, seq, digest, source: 'a test' };
};

/** Digests a chain anew from a row on, with the database's own function, and moves the head along. */
const writeAnew = (id: string, from: number) => `
  DO $$ DECLARE e "AuditEvent"; last text; BEGIN
    SELECT digest INTO last FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq = ${from - 1};
    FOR e IN SELECT * FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq >= ${from} ORDER BY seq LOOP
      e."previousDigest" := coalesce(last, '');
      last := encode(sha256(convert_to(audit_text(e), 'UTF8')), 'hex');
      UPDATE "AuditEvent" SET "previousDigest" = e."previousDigest", digest = last WHERE id = e.id;
    END LOOP;
    UPDATE "AuditHead" SET digest = last, seq = (SELECT max(seq) FROM "AuditEvent" WHERE "collectionId" = '${id}')
      WHERE "collectionId" = '${id}';
  END $$`;

const at = (id: string, seq: number | string) => `WHERE "collectionId" = '${id}' AND seq = ${seq}`;

/** Moves every row from `seq` on by one, to make room. */
const moveOn = (id: string, seq: number) => [
  `UPDATE "AuditEvent" SET seq = -seq - 1 WHERE "collectionId" = '${id}' AND seq >= ${seq}`,
  `UPDATE "AuditEvent" SET seq = -seq WHERE "collectionId" = '${id}' AND seq < 0`,
];
const insertAt = (id: string, seq: number) =>
  `INSERT INTO "AuditEvent" (id, seq, "collectionId", "actorName", "subjectType", "subjectId", kind, payload, "previousDigest", digest)
   SELECT gen_random_uuid(), ${seq}, "collectionId", 'Nobody', 'bird', gen_random_uuid(), kind, '{}', "previousDigest", digest
   FROM "AuditEvent" ${at(id, 1)}`;

type Case = { name: string; act: (id: string) => string[]; firstBad: number; why: RegExp };

/** Each case also says at which row it must be found: counted by hand on a chain of twelve. */
const CASES: Case[] = [
  ...(
    [
      ['"actorName"', `'Somebody else'`],
      ['payload', `'{"step": 99}'`],
      ['reason', `'another reason'`],
      ['at', `at - interval '1 day'`],
      ['"subjectId"', 'gen_random_uuid()'],
      ['"actorId"', 'gen_random_uuid()'],
      ['"birdId"', 'gen_random_uuid()'],
      ['kind', `'salvage.declined'`],
      ['"requestId"', `'other'`],
    ] as const
  ).map(([column, value]) => ({
    name: `edit ${column}`,
    act: (id: string) => [`UPDATE "AuditEvent" SET ${column} = ${value} ${at(id, 5)}`],
    firstBad: 5,
    why: /was edited/,
  })),
  {
    name: 'edit a row and give it a digest of its own',
    act: (id) => [
      `UPDATE "AuditEvent" SET reason = 'later' ${at(id, 5)}`,
      `UPDATE "AuditEvent" e SET digest = encode(sha256(convert_to(audit_text(e), 'UTF8')), 'hex') ${at(id, 5)}`,
    ],
    firstBad: 6,
    why: /does not follow/,
  },
  {
    name: 'delete the first row',
    act: (id) => [`DELETE FROM "AuditEvent" ${at(id, 1)}`],
    firstBad: 2,
    why: /expected number 1/,
  },
  {
    name: 'delete a row in the middle',
    act: (id) => [`DELETE FROM "AuditEvent" ${at(id, 7)}`],
    firstBad: 8,
    why: /expected number 7/,
  },
  {
    name: 'delete a row and close the gap',
    act: (id) => [
      `DELETE FROM "AuditEvent" ${at(id, 7)}`,
      `UPDATE "AuditEvent" SET seq = 1 - seq WHERE "collectionId" = '${id}' AND seq > 7`,
      `UPDATE "AuditEvent" SET seq = -seq WHERE "collectionId" = '${id}' AND seq < 0`,
      `UPDATE "AuditHead" SET seq = ${LENGTH - 1} WHERE "collectionId" = '${id}'`,
    ],
    firstBad: 7,
    why: /does not follow/,
  },
  {
    name: 'insert a row in the middle',
    act: (id) => [...moveOn(id, 4), insertAt(id, 4)],
    firstBad: 4,
    why: /does not follow/,
  },
  {
    name: 'insert a row before the first',
    act: (id) => [insertAt(id, 0)],
    firstBad: 0,
    why: /expected number 1/,
  },
  {
    name: 'insert a row after the end',
    act: (id) => [insertAt(id, LENGTH + 1)],
    firstBad: LENGTH + 1,
    why: /does not follow/,
  },
  {
    name: 'exchange two rows',
    act: (id) => [
      `UPDATE "AuditEvent" SET seq = CASE seq WHEN 6 THEN -9 ELSE -6 END WHERE "collectionId" = '${id}' AND seq IN (6, 9)`,
      `UPDATE "AuditEvent" SET seq = -seq WHERE "collectionId" = '${id}' AND seq < 0`,
    ],
    firstBad: 6,
    why: /does not follow/,
  },
  {
    name: 'cut the tail',
    act: (id) => [`DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq > 9`],
    firstBad: 10,
    why: /its head is 12: the tail was cut/,
  },
  {
    name: 'delete all rows',
    act: (id) => [`DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}'`],
    firstBad: 1,
    why: /the tail was cut/,
  },
  {
    name: 'move words over a separator into the next column',
    act: (id) => [
      'ALTER TABLE "AuditEvent" DROP CONSTRAINT audit_no_separator',
      `UPDATE "AuditEvent" SET reason = 'a' || chr(31) || 'b' ${at(id, 3)}`,
      writeAnew(id, 3),
      `ALTER TABLE "AuditEvent" ADD CONSTRAINT audit_no_separator
         CHECK (strpos(concat("actorName", "subjectType", kind, reason, "requestId"), chr(31)) = 0) NOT VALID`,
    ],
    firstBad: 3,
    why: /separator/,
  },
];

describe('a superuser with all triggers off', () => {
  it.each(CASES)('$name: found, and row $firstBad is named', async ({ act, firstBad, why }) => {
    const id = await makeChain();
    await tamper(...act(id));
    const verdict = await verifyChain(id);
    expect(verdict).toMatchObject({ ok: false, firstBad: { seq: firstBad } });
    expect(verdict.firstBad?.why).toMatch(why);
  });

  it('the database itself takes no separator in a text', async () => {
    const id = await makeChain();
    await expect(append(id, 1, 'a\u001fb')).rejects.toThrow(/audit_no_separator/);
  });
});

describe('what only an anchor outside the chain can tell', () => {
  /** Each leaves a chain that is whole in itself; the test says so first, then asks the anchor. */
  const REWRITES: (Omit<Case, 'why'> & { anchor: number; why: RegExp; more?: number })[] = [
    {
      name: 'cut the tail and set the head back',
      act: (id) => [
        `DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq > 9`,
        `UPDATE "AuditHead" SET seq = 9, digest = (SELECT digest FROM "AuditEvent" ${at(id, 9)}) WHERE "collectionId" = '${id}'`,
      ],
      anchor: LENGTH,
      firstBad: 10,
      why: /ends at 9 but a test keeps number 12/,
    },
    {
      name: 'cut the tail, set the head back, and go on as if nothing were',
      act: (id) => [
        `DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}' AND seq > 9`,
        `UPDATE "AuditHead" SET seq = 9, digest = (SELECT digest FROM "AuditEvent" ${at(id, 9)}) WHERE "collectionId" = '${id}'`,
      ],
      more: 8,
      anchor: LENGTH,
      firstBad: 12,
      why: /a test keeps: the chain was written anew/,
    },
    {
      name: 'edit a row and digest everything after it anew',
      act: (id) => [`UPDATE "AuditEvent" SET reason = 'later' ${at(id, 5)}`, writeAnew(id, 5)],
      anchor: 8,
      firstBad: 8,
      why: /written anew/,
    },
    {
      name: 'delete a row, close the gap, digest everything anew',
      act: (id) => [
        `DELETE FROM "AuditEvent" ${at(id, 7)}`,
        `UPDATE "AuditEvent" SET seq = 1 - seq WHERE "collectionId" = '${id}' AND seq > 7`,
        `UPDATE "AuditEvent" SET seq = -seq WHERE "collectionId" = '${id}' AND seq < 0`,
        writeAnew(id, 7),
      ],
      anchor: 8,
      firstBad: 8,
      why: /written anew/,
    },
    {
      name: 'delete the chain with its head',
      act: (id) => [
        `DELETE FROM "AuditEvent" WHERE "collectionId" = '${id}'`,
        `DELETE FROM "AuditHead" WHERE "collectionId" = '${id}'`,
      ],
      anchor: LENGTH,
      firstBad: 1,
      why: /ends at 0 but a test keeps number 12/,
    },
  ];

  it.each(REWRITES)('$name: row $firstBad', async ({ act, anchor, firstBad, why, more }) => {
    const id = await makeChain();
    const kept = await anchorAt(id, anchor);
    await tamper(...act(id));
    if (more !== undefined) await append(id, more);
    expect((await verifyChain(id)).ok, 'whole in itself').toBe(true);
    const verdict = await verifyChain(id, [kept]);
    expect(verdict).toMatchObject({ ok: false, firstBad: { seq: firstBad } });
    expect(verdict.firstBad?.why).toMatch(why);
  });

  it('an anchor of another collection says nothing, and one from before the change holds', async () => {
    const [id, other] = [await makeChain(), await makeChain()];
    const kept = await anchorAt(id, 4);
    await tamper(`UPDATE "AuditEvent" SET reason = 'later' ${at(id, 5)}`, writeAnew(id, 5));
    expect((await verifyChain(id, [kept, await anchorAt(other, 8)])).ok).toBe(true);
  });
});

describe('every chain there is', () => {
  let id: string;
  beforeAll(async () => {
    id = await makeChain();
  });

  it('a chain whose collection was deleted is still walked', async () => {
    await tamper(
      `DELETE FROM "Collection" WHERE id = '${id}'`,
      `UPDATE "AuditEvent" SET reason = '' ${at(id, 2)}`,
    );
    const found = (await verifyAllChains()).find(({ collectionId }) => collectionId === id);
    expect(found).toMatchObject({ ok: false, firstBad: { seq: 2 } });
  });

  it('a chain of which an anchor alone knows is missed', async () => {
    const gone = '00000000-0000-7000-8000-00000000dead';
    const found = await verifyAllChains([
      { collectionId: gone, seq: 3, digest: 'a'.repeat(64), source: 'a test' },
    ]);
    expect(found.find(({ collectionId }) => collectionId === gone)).toMatchObject({
      ok: false,
      firstBad: { seq: 1 },
    });
  });
});
