import 'server-only';
import { PassThrough, Readable, type Writable } from 'node:stream';
import { z } from 'zod';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { dateColumn, dayIn, dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { forbidden } from '@/lib/platform/errors';
import type { FileAnswer } from '@/lib/platform/http';
import { log } from '@/lib/platform/log';
import { grantsOf, may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { buildExportBird, type PlaceRule } from '../build-bird';
import type { MediaSource } from '../build-media';
import { writeDataPackage } from '../data-package/write';
import { writeMaterialArchive, writeOccurrenceArchive } from '../dwca';
import type { ExportMetadata } from '../eml';
import { exchangeEvents } from '../events';
import type { ExportBird, ExportHolder } from '../export-types';
import { writeGeoJson, writeSimpleCsv } from '../flat-exports';
import { reportQuality } from '../quality-report';
import {
  type BirdScope,
  countBirds,
  countSensitive,
  findCollection,
  measureCoverage,
  readBirds,
} from '../repo/birds';
import {
  type ExportForm,
  type ExportOverview,
  type ExportQuery,
  MATERIAL_FORMS,
  type QualityAnswer,
} from '../schema';

/** What an institution says of itself to those who use its data; kept in the collection's settings. */
const holderSettings = z
  .object({
    institutionId: z.url().nullable().default(null),
    rightsHolder: z.string().min(1).optional(),
    licenseIri: z.url().default('https://creativecommons.org/licenses/by/4.0/'),
    licenseName: z.string().default('Creative Commons Attribution 4.0'),
    contactEmail: z.email().nullable().default(null),
  })
  .prefault({});

type Source = {
  scope: BirdScope;
  rule: PlaceRule;
  holder: ExportHolder;
  metadata: ExportMetadata;
  birds: AsyncGenerator<ExportBird>;
};

/** Sees everything of the collection, not only what is approved. */
const seesAll = (actor: Actor): boolean => grantsOf(actor.roles, 'catalogue.see').includes('any');

/**
 * Which birds, and how much of their places, this actor's export holds. Visitors get approved birds with every place
 * coarsened; others get sensitive places coarsened, unless they may see them and ask for them.
 */
function limitExport(actor: Actor, query: ExportQuery): { scope: BirdScope; rule: PlaceRule } {
  authorise(actor, 'catalogue.see');
  if (query.birds === 'all' && !seesAll(actor)) throw forbidden('You may export approved birds only.');
  if (query.places === 'exact' && !may(actor, 'place.exact'))
    throw forbidden('Exact places are not for you to export (place.exact).');
  const since = query.since === undefined ? null : dateColumn(query.since);
  const scope = { collectionId: actor.collectionId, approvedOnly: query.birds === 'approved', since };
  if (!seesAll(actor)) return { scope, rule: 'everywhere' };
  return { scope, rule: query.places === 'exact' ? 'exact' : 'sensitive' };
}

async function* streamBirds(
  scope: BirdScope,
  rule: PlaceRule,
  media: MediaSource,
): AsyncGenerator<ExportBird> {
  for await (const batch of readBirds(db(), scope)) {
    for (const bird of batch.birds) yield buildExportBird(bird, batch, rule, media);
  }
}

async function openSource(actor: Actor, query: ExportQuery, address: string): Promise<Source> {
  const { scope, rule } = limitExport(actor, query);
  const collection = await findCollection(db(), actor.collectionId);
  const settings = holderSettings.parse((collection.settings as { exchange?: unknown }).exchange ?? {});
  const publishedOn = dayIn(collection.timeZone, now());
  const holder: ExportHolder = {
    institutionCode: collection.code,
    institutionId: settings.institutionId,
    ownerInstitutionCode: collection.code,
    collectionCode: 'Birds',
    collectionId: `urn:uuid:${collection.id}`,
    licenseIri: settings.licenseIri,
    rightsHolder: settings.rightsHolder ?? collection.name,
  };
  const metadata: ExportMetadata = {
    datasetId: collection.id,
    version: Number(publishedOn.replaceAll('-', '')),
    title: `Birds of ${collection.name}`,
    abstract: ['Salvaged birds and what was prepared of them.'],
    organizationName: collection.name,
    contactEmail: settings.contactEmail,
    publishedOn,
    licenseIri: settings.licenseIri,
    licenseName: settings.licenseName,
    keywords: ['Occurrence', 'Specimen'],
    citation: `${collection.name} (${publishedOn.slice(0, 4)}). Birds.`,
    coverage: await describeCoverage(scope),
  };
  const birds = streamBirds(scope, rule, { address, licenseIri: settings.licenseIri });
  return { scope, rule, holder, metadata, birds };
}

/** In whole degrees, so that the rectangle gives no place away. */
async function describeCoverage(scope: BirdScope): Promise<ExportMetadata['coverage']> {
  const { least, most } = await measureCoverage(db(), scope);
  if (least.foundFrom === null || most.foundTo === null) return null;
  return {
    startOn: dayOf(least.foundFrom),
    endOn: dayOf(most.foundTo),
    west: Math.floor(least.longitude ?? -180),
    east: Math.ceil(most.longitude ?? 180),
    south: Math.floor(least.latitude ?? -90),
    north: Math.ceil(most.latitude ?? 90),
    description: 'Where the birds were found, in whole degrees.',
  };
}

type Writer = (source: Source, out: Writable) => Promise<unknown>;

const FORMS: Record<ExportForm, { mediaType: string; name: string; write: Writer }> = {
  occurrences: {
    mediaType: 'application/zip',
    name: 'occurrence-archive.zip',
    write: ({ birds, holder, metadata }, out) => writeOccurrenceArchive(birds, out, { holder, metadata }),
  },
  materials: {
    mediaType: 'application/zip',
    name: 'material-archive.zip',
    write: ({ birds, holder, metadata }, out) => writeMaterialArchive(birds, out, { holder, metadata }),
  },
  'data-package': {
    mediaType: 'application/zip',
    name: 'data-package.zip',
    write: ({ birds, holder, metadata }, out) => writeDataPackage(birds, out, { holder, metadata }),
  },
  'simple-csv': {
    mediaType: 'text/csv; charset=utf-8',
    name: 'simple-darwin-core.csv',
    write: ({ birds, holder }, out) => writeSimpleCsv(birds, out, holder),
  },
  geojson: {
    mediaType: 'application/geo+json',
    name: 'birds.geojson',
    write: async ({ birds, holder }, out) => {
      for await (const text of writeGeoJson(birds, holder)) {
        if (!out.write(text))
          await new Promise((resolve) => out.once('drain', resolve).once('close', resolve));
        if (out.destroyed) return;
      }
      out.end();
    },
  },
};

/**
 * An export as a file that streams while it is made. That it left the house is written down first. Pictures are given
 * by where they are fetched: `address` is this installation's.
 */
export async function exportBirds(
  context: CommandContext,
  form: ExportForm,
  query: ExportQuery,
  address: string,
): Promise<FileAnswer> {
  const { actor } = context;
  if (MATERIAL_FORMS.includes(form)) authorise(actor, 'materials.see');
  const source = await openSource(actor, query, address);
  await withTx(context, async (work) =>
    work.audit(
      exchangeEvents.make(
        'exchange.exported',
        { subjectType: 'collection', subjectId: actor.collectionId },
        { form, birds: query.birds, places: source.rule, since: query.since ?? null },
      ),
    ),
  );
  const { mediaType, name, write } = FORMS[form];
  const out = new PassThrough();
  write(source, out).catch((error: Error) => {
    // A reader that went away is no failure; the file that breaks off says the rest to the one who waits for it.
    if (!out.destroyed) log().error({ err: error }, 'export failed');
    out.destroy(error);
  });
  return {
    body: Readable.toWeb(out) as ReadableStream<Uint8Array>,
    mediaType,
    fileName: `${source.holder.institutionCode}-${source.metadata.publishedOn}-${name}`,
  };
}

/** What an export would hold, for the page. */
export async function describeExports(actor: Actor): Promise<ExportOverview> {
  authorise(actor, 'catalogue.see');
  const scope = { collectionId: actor.collectionId, approvedOnly: true, since: null };
  const all = seesAll(actor);
  const approved = await countBirds(db(), scope);
  return {
    approved,
    all: all ? await countBirds(db(), { ...scope, approvedOnly: false }) : null,
    mayExact: may(actor, 'place.exact'),
    mayMaterials: may(actor, 'materials.see'),
    generalised: all ? await countSensitive(db(), { ...scope, approvedOnly: false }) : approved,
    mayImport: may(actor, 'imports.run'),
    mayTokens: may(actor, 'tokens.manage'),
    mayWebhooks: may(actor, 'webhooks.manage'),
  };
}

/** Runs every test on what would leave the house, before it does. */
export async function checkQuality(
  actor: Actor,
  query: ExportQuery,
  address: string,
): Promise<QualityAnswer> {
  authorise(actor, 'exports.make');
  const { birds, holder, metadata } = await openSource(actor, query, address);
  return reportQuality(birds, holder, { today: metadata.publishedOn });
}
