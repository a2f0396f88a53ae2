import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import ExifReader from 'exifreader';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { fromBuffer } from 'yauzl';

const folder = vi.hoisted(() => ({ path: '' }));
const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), FURCULA_DATA: folder.path }) };
});

import { addFile } from '@/lib/attachments/service';
import { approveRecord } from '@/lib/catalogue/service/review';
import { askLoan } from '@/lib/loans/service/ask';
import { writeComment } from '@/lib/notices/service/comments';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { RouteDescription } from '@/lib/platform/http';
import { may, type Role } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { makeBorrower } from '@/seed/factories/loans';
import { makePhoto } from '@/seed/factories/pictures';

/**
 * A sensitive bird whose exact place is written wherever a place can be written; then every route that answers is
 * asked by those who may not know it, and its answer, whatever its status and form, is searched for the place.
 */
const PLACE = { latitude: 40.12347, longitude: -82.65431 };
const LOCALITY = 'Quarry ledge over Hollow Pike';
const VERBATIM = '40°07′24.5″N 82°39′15.5″W';
const SECRETS = ['Hollow Pike', 'hollow pike', '40.1234', '82.6543', '40.123', '82.654', '40°07', '82°39'];

const root = path.resolve(import.meta.dirname, '../../..');
type Handler = ((request: Request, context: unknown) => Promise<Response>) & { route?: RouteDescription };
type Entry = { file: string; handler: Handler };
const entries: Entry[] = [];
let actors: Record<'visitor' | 'volunteer' | 'administrator' | 'registrar', Actor>;
let ids: string[] = [];
let queries: string[] = [];
let photoId = '';

beforeAll(async () => {
  folder.path = mkdtempSync(path.join(os.tmpdir(), 'furcula-places-'));
  const collectionId = await makeCollection(db());
  const as = (role: Role) => makeActor(db(), collectionId, role);
  actors = {
    visitor: await as('visitor'),
    volunteer: await as('volunteer'),
    administrator: await as('administrator'),
    registrar: await as('registrar'),
  };
  const [preparator, curator] = [await as('preparator'), await as('curator')];
  const taxonId = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
  const made = await makeInReview(db(), preparator, { taxonId });
  const { salvageId } = made.bird;
  const place = { ...PLACE, locality: LOCALITY, verbatimCoordinates: VERBATIM, uncertaintyM: 37 };
  await withTx(contextOf(actors.registrar), async (work) => {
    await work.db.salvageRecord.update({ where: { id: salvageId }, data: place });
    work.audit({
      kind: 'salvage.changed',
      subjectType: 'salvage',
      subjectId: salvageId,
      birdId: made.bird.id,
      payload: {
        changes: Object.fromEntries(Object.entries(place).map(([field, to]) => [field, { from: null, to }])),
      },
    });
  });
  const photo = await addFile(
    contextOf(preparator),
    { subjectType: 'bird', subjectId: made.bird.id, fileName: `${LOCALITY}.jpg`, caption: LOCALITY },
    new Blob([new Uint8Array(await makePhoto(PLACE))]).stream(),
  );
  photoId = photo.id;
  for (const [subjectType, subjectId] of [
    ['bird', made.bird.id],
    ['salvage', salvageId],
  ] as const)
    await writeComment(contextOf(preparator), {
      subjectType,
      subjectId,
      text: `${LOCALITY}, ${VERBATIM}`,
      field: null,
    });
  await approveRecord(contextOf(curator), made.record.id, { version: 1, explanations: {} });
  const skin = made.materials.find(({ kind }) => kind === 'skin')?.id ?? '';
  const loan = await askLoan(contextOf(actors.registrar), {
    kind: 'loan',
    borrowerId: await makeBorrower(db(), collectionId),
    purpose: 'Comparison of feathers.',
    materialIds: [skin],
  });
  ids = [made.bird.id, salvageId, made.record.id, skin, photo.id, loan.id, taxonId];
  const number = made.bird.number;
  queries = [
    '',
    'q=Hollow',
    'q=place:Hollow',
    'q=Hollow%20AND%20(',
    `q=${encodeURIComponent(number)}&text=Hollow`,
    `subjectType=bird&subjectId=${made.bird.id}`,
    `subjectType=salvage&subjectId=${salvageId}`,
    `birdId=${made.bird.id}`,
    'birds=approved&places=exact',
    'birds=all&places=shared',
    'columns=number,locality,county,stateProvince',
    'columns=number,locality,county,stateProvince&form=xlsx',
    'step=0.05',
    `step=0.05&q=${encodeURIComponent('within:40.12..40.13/-82.66..-82.65')}`,
    'copy=original',
    'copy=thumb',
  ];
  const files = readdirSync(path.join(root, 'app'), { recursive: true, encoding: 'utf8' })
    .filter((file) => /(^|\/)route\.tsx?$/.test(file) && !/\.\.\.nextauth|api\/live/.test(file))
    .sort();
  for (const file of files) {
    const { GET: handler } = (await import(path.join(root, 'app', file))) as { GET?: Handler };
    if (handler?.route !== undefined && handler.route.permission !== 'public')
      entries.push({ file, handler });
  }
}, 240_000);
afterAll(() => rmSync(folder.path, { recursive: true, force: true }));

/** The text of an answer, whatever it is: archives and tables (XLSX) are opened. */
async function textOf(bytes: Buffer): Promise<string> {
  if (bytes.subarray(0, 2).toString('latin1') !== 'PK')
    return `${bytes.toString('utf8')} ${bytes.toString('latin1')}`;
  return new Promise((resolve, reject) =>
    fromBuffer(bytes, { lazyEntries: true }, (error, zip) => {
      if (error) return reject(error);
      const parts: string[] = [];
      zip.on('entry', (entry) =>
        zip.openReadStream(entry, async (failed, stream) => {
          if (failed) return reject(failed);
          const pieces: Buffer[] = [];
          for await (const piece of stream) pieces.push(piece as Buffer);
          parts.push(Buffer.concat(pieces).toString('utf8'));
          zip.readEntry();
        }),
      );
      zip.on('end', () => resolve(parts.join('\n')));
      zip.readEntry();
    }),
  );
}

type Leak = { where: string; status: number; secret: string };

/** Every route that this person may ask, with every id and query: where the place is in the answer. */
async function findLeaks(
  actor: Actor,
  only = entries,
): Promise<{ asked: number; answered: Set<string>; leaks: Leak[] }> {
  signedIn.actor = actor;
  const leaks: Leak[] = [];
  const answered = new Set<string>();
  let asked = 0;
  for (const { file, handler } of only) {
    const { permission, schemas } = handler.route ?? {};
    if (permission === undefined || permission === 'public' || !may(actor, permission)) continue;
    const names = [...file.matchAll(/\[(\w+)\]/g)].map(([, name]) => name ?? '');
    for (const id of names.length === 0 ? [''] : ids) {
      for (const query of schemas?.query === undefined ? [''] : queries) {
        const request = new Request(`http://localhost/${file.replace('/route.ts', '')}?${query}`);
        const params = Object.fromEntries(names.map((name) => [name, name === 'id' ? id : 'dwca']));
        const response = await handler(request, { params: Promise.resolve(params) });
        const bytes = Buffer.from(await response.arrayBuffer());
        asked += 1;
        if (response.ok) answered.add(file);
        const text = await textOf(bytes);
        for (const secret of SECRETS) {
          if (!text.includes(secret)) continue;
          leaks.push({ where: `${file}?${query} (${id})`, status: response.status, secret });
        }
      }
    }
  }
  return { asked, answered, leaks };
}

describe('the exact place of a sensitive bird', () => {
  it('is found by this search where it may be known: so that the search can find it', async () => {
    const known = [
      'api/catalogue/[id]/route.ts',
      'api/catalogue/map/route.ts',
      'api/catalogue/export/route.ts',
      'api/history/route.ts',
      'api/salvage/[id]/route.ts',
    ];
    const { leaks } = await findLeaks(
      actors.registrar,
      entries.filter(({ file }) => known.includes(file)),
    );
    const where = leaks.map((leak) => leak.where);
    for (const file of known)
      expect(
        where.some((one) => one.startsWith(file)),
        file,
      ).toBe(true);
    expect(where.filter((one) => one.includes('form=xlsx'))).not.toEqual([]);
  }, 240_000);

  it.each(['visitor', 'volunteer', 'administrator'] as const)(
    'is in no answer to the role %s: record, list, search, facet, export, history, file or error',
    async (role) => {
      const { asked, answered, leaks } = await findLeaks(actors[role]);
      expect(leaks).toEqual([]);
      expect(asked).toBeGreaterThan(100);
      for (const file of [
        'api/catalogue/route.ts',
        'api/catalogue/[id]/route.ts',
        'api/attachments/route.ts',
        'api/catalogue/map/route.ts',
        'api/catalogue/charts/route.ts',
      ])
        if (role !== 'administrator' || !file.includes('attachments'))
          expect([...answered], role).toContain(file);
      if (role === 'administrator') expect([...answered]).toContain('api/catalogue/export/route.ts');
    },
    240_000,
  );

  it('cannot be searched for by those who may not see it', async () => {
    const handler = entries.find(({ file }) => file === 'api/catalogue/route.ts')?.handler;
    const count = async (actor: Actor, q: string) => {
      signedIn.actor = actor;
      const address = `http://localhost/api/catalogue?q=${encodeURIComponent(q)}`;
      const answer = await handler?.(new Request(address), { params: Promise.resolve({}) });
      const body = JSON.parse((await answer?.text()) ?? '{"rows":[]}') as { rows: unknown[] };
      return body.rows.length;
    };
    for (const q of ['"Hollow Pike"', 'place:Hollow', 'Hollow', 'within:40.12..40.13/-82.66..-82.65']) {
      expect(await count(actors.registrar, q), q).toBe(1);
      for (const role of ['visitor', 'volunteer', 'administrator'] as const)
        expect(await count(actors[role], q), `${role}: ${q}`).toBe(0);
    }
  });

  it('is not in the photo that a visitor gets, whose original has it', async () => {
    const handler = entries.find(({ file }) => file === 'api/attachments/[id]/file/route.ts')?.handler;
    const get = async (actor: Actor, copy: string) => {
      signedIn.actor = actor;
      const request = new Request(`http://localhost/api/attachments/${photoId}/file?copy=${copy}`);
      const answer = await handler?.(request, { params: Promise.resolve({ id: photoId }) });
      return {
        status: answer?.status,
        bytes: Buffer.from((await answer?.arrayBuffer()) ?? new ArrayBuffer(0)),
      };
    };
    const original = await get(actors.registrar, 'original');
    expect(ExifReader.load(original.bytes, { expanded: true }).gps?.Latitude).toBeCloseTo(PLACE.latitude, 3);
    for (const copy of ['public', 'thumb']) {
      const { status, bytes } = await get(actors.visitor, copy);
      expect(status).toBe(200);
      const tags = ExifReader.load(bytes, { expanded: true });
      expect([tags.gps, tags.exif, tags.xmp, tags.iptc]).toEqual([
        undefined,
        undefined,
        undefined,
        undefined,
      ]);
    }
    expect((await get(actors.visitor, 'original')).status).toBe(404);
  });
});
