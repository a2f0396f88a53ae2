import 'server-only';
import type { z } from 'zod';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { notFound, notValid } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { findUnitsInside, loadTree, preservationWords, resolveConditions } from '@/lib/storage/public';
import { bagOf, boxOf, type Shown, tagOf, vialCapOf, vialSideOf } from './contents';
import { type LabelContent, labelKinds } from './kinds';
import { listMissingTagFacts, specimenTagSchema } from './kinds/specimen-tag';
import { checkLabels, renderLabels } from './render';
import { type FoundMaterial, findCollection, findFinds, findMaterials, findNames } from './repo';
import { type LabelStock, LabelsDoNotFitError, type PrintSettings } from './schema';
import { labelStocks } from './stocks';
import type { LabelCheck, LabelQuery, PrintedKind } from './wire';

/** Labels of records as a PDF of exact size. @throws AppError not-valid naming each label and what of it does not fit */
export async function printLabels(actor: Actor, kind: PrintedKind, query: LabelQuery): Promise<Buffer> {
  authorise(actor, 'labels.print');
  const contents = await gather(actor, kind, query);
  const stock = chooseStock(kind, query.stock);
  try {
    return await renderLabels(kind, contents, stock, settingsOf(query, stock));
  } catch (error) {
    if (error instanceof LabelsDoNotFitError) throw doNotFit(contents, error);
    throw error;
  }
}

/** What printing would say: how many, what does not fit, and which facts of the label minimum are lacking. */
export async function checkPrint(actor: Actor, kind: PrintedKind, query: LabelQuery): Promise<LabelCheck> {
  authorise(actor, 'labels.print');
  const contents = await gather(actor, kind, query);
  const stock = chooseStock(kind, query.stock);
  settingsOf(query, stock);
  const perPage = stock.columns * stock.rows;
  return {
    labels: contents.length,
    pages: Math.ceil((contents.length + query.startAt - 1) / perPage),
    stock: stock.id,
    stocks: stocksOf(kind).map(({ id, name, columns, rows }) => ({ id, name, perPage: columns * rows })),
    problems: checkLabels(kind, contents, stock).map((problem) => ({
      ...problem,
      label: nameOf(contents[problem.item - 1]),
    })),
    lacks: contents.flatMap((content) => {
      const tag = kind === 'specimen-tag' ? specimenTagSchema.safeParse(content) : null;
      const facts = tag?.success ? listMissingTagFacts(tag.data) : [];
      return facts.length === 0 ? [] : [{ label: nameOf(content), facts }];
    }),
  };
}

type Content = LabelContent<PrintedKind>;

const nameOf = (content: Content | undefined): string => {
  if (content === undefined) return '';
  if ('code' in content) return content.name;
  return [content.number, 'suffix' in content ? content.suffix : null].filter(Boolean).join('-');
};

const stocksOf = (kind: PrintedKind): LabelStock[] =>
  labelStocks.filter((stock) => (labelKinds[kind].stockIds as readonly string[]).includes(stock.id));

function chooseStock(kind: PrintedKind, id: string | undefined): LabelStock {
  const stocks = stocksOf(kind);
  const stock = id === undefined ? stocks[0] : stocks.find((one) => one.id === id);
  if (stock === undefined) {
    throw notValid(`${labelKinds[kind].name}: there is no such stock for it.`, [
      { path: 'stock', message: `Choose one of: ${stocks.map((one) => one.name).join('; ')}.` },
    ]);
  }
  return stock;
}

function settingsOf(query: LabelQuery, stock: LabelStock): Partial<PrintSettings> {
  const perPage = stock.columns * stock.rows;
  if (query.startAt > perPage) {
    throw notValid(`A page of this stock has ${perPage} labels.`, [
      { path: 'startAt', message: `Begin at label 1 to ${perPage}.` },
    ]);
  }
  return {
    startAt: query.startAt,
    calibration: {
      offsetXMm: query.offsetX,
      offsetYMm: query.offsetY,
      measured100XMm: query.measuredX,
      measured100YMm: query.measuredY,
    },
  };
}

const doNotFit = (contents: readonly Content[], { problems }: LabelsDoNotFitError) =>
  notValid(
    'Nothing was printed: not everything fits on these labels.',
    problems.map(({ item, field, message }) => ({
      path: `labels.${item}.${field}`,
      message: `${nameOf(contents[item - 1])}, ${field}: ${message}`,
    })),
  );

/** The contents in the order of the ids; one that is not there, or not of this kind, refuses all. */
async function gather(actor: Actor, kind: PrintedKind, query: LabelQuery): Promise<Content[]> {
  const found =
    kind === 'storage' ? await storageLabels(actor, query) : await recordLabels(actor, kind, query);
  if (found.length === 0) throw notFound('What these labels are for');
  const schema = labelKinds[kind].schema as z.ZodType<Content>;
  return found.map((content) => {
    const parsed = schema.safeParse(content);
    if (parsed.success) return parsed.data;
    throw notValid(
      `${nameOf(content)} cannot be printed on this label.`,
      parsed.error.issues.map(({ path, message }) => ({
        path: path.join('.'),
        message: `${path.join('.')}: ${message}`,
      })),
    );
  });
}

async function recordLabels(
  actor: Actor,
  kind: Exclude<PrintedKind, 'storage'>,
  query: LabelQuery,
): Promise<Content[]> {
  const collection = await findCollection(db(), actor.collectionId);
  const institution = collection.name.slice(0, 80);
  const exact = may(actor, 'place.exact');
  if (kind === 'specimen-tag' || kind === 'carcass-bag') {
    const finds = await findFinds(db(), actor.collectionId, query.ids);
    const names = await findNames(
      db(),
      finds.flatMap(({ loggedById, bird }) => [loggedById, bird?.bench?.preparatorId]),
    );
    const shown: Shown = { institution, exact, names };
    return inOrder(query.ids, finds, (find) => [find.id, find.bird?.id]).map((find) => {
      const content = kind === 'carcass-bag' ? bagOf(find, shown) : tagOf(find, shown);
      if (content === null) throw notFound(`A bird of ${find.number}`);
      return content;
    });
  }
  const shown: Shown = { institution, exact, names: new Map() };
  const materials = await gatherMaterials(actor, kind === 'skeleton-box' ? 'skeleton' : 'vial', query);
  return materials.flatMap((material): Content[] => {
    if (kind === 'skeleton-box') return [boxOf(material, shown)];
    const content = kind === 'vial-side' ? vialSideOf(material) : vialCapOf(material);
    return content === null ? [] : [content];
  });
}

async function gatherMaterials(
  actor: Actor,
  kind: 'vial' | 'skeleton',
  query: LabelQuery,
): Promise<FoundMaterial[]> {
  if (query.in !== undefined) {
    const unitIds = await findUnitsInside(db(), actor.collectionId, query.in);
    const found = await findMaterials(db(), actor.collectionId, kind, { unitIds });
    return found.sort((a, b) =>
      (a.placement?.position ?? '').localeCompare(b.placement?.position ?? '', 'en', { numeric: true }),
    );
  }
  const found = await findMaterials(db(), actor.collectionId, kind, { ids: query.ids });
  return inOrder(query.ids, found, (material) => [material.id]);
}

async function storageLabels(actor: Actor, query: LabelQuery): Promise<LabelContent<'storage'>[]> {
  const { tree, wire } = await loadTree(db(), actor.collectionId);
  const wanted =
    query.in === undefined
      ? inOrder(query.ids, [...wire.values()], (unit) => [unit.id])
      : [...wire.values()].filter((unit) => unit.parentId === query.in);
  return wanted.map((unit) => {
    const around = resolveConditions(tree, unit.id);
    const degrees = around.targetTemperatureC;
    const above = unit.path.slice(0, Math.max(0, unit.path.length - unit.name.length - ' › '.length));
    return {
      name: unit.name,
      kind: unit.kind,
      pathName: [above, unit.parentPosition].filter(Boolean).join(' › '),
      temperature: degrees === null ? null : `${String(degrees).replace('-', '−')} °C`,
      takes:
        around.allowedPreservations
          ?.map((word) => preservationWords[word])
          .join(', ')
          .slice(0, 120) ?? null,
      code: unit.code,
    };
  });
}

/** Things in the order in which they were asked for. @throws AppError not-found when one is missing */
function inOrder<T>(
  ids: readonly string[],
  things: readonly T[],
  idsOf: (thing: T) => (string | null | undefined)[],
): T[] {
  return ids.map((id) => {
    const thing = things.find((one) => idsOf(one).includes(id));
    if (thing === undefined) throw notFound('One of the things these labels are for');
    return thing;
  });
}
