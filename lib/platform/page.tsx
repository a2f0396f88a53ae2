import 'server-only';
import { dehydrate, HydrationBoundary, QueryClient, type QueryKey } from '@tanstack/react-query';
import type { Metadata } from 'next';
import { forbidden, notFound, redirect } from 'next/navigation';
import type { ReactNode } from 'react';
import { z } from 'zod';
import type { Actor } from './actor';
import { AppError } from './errors';
import { currentActor } from './identity/session';
import { may, type Permission } from './permissions';
import { settlePageLanguage } from './words/request-language';
import { say } from './words/say';

/** The signed-in person for a page; sends others to sign in, or to the page that says which right is missing. */
export async function requireActor(permission: Permission): Promise<Actor> {
  await settlePageLanguage();
  const actor = await currentActor();
  if (actor === null) redirect('/sign-in');
  if (!may(actor, permission)) forbidden();
  return actor;
}

/** A page's title in its reader's language, beside what else the head says of it. */
export const titled =
  (title: string, rest: Metadata = {}) =>
  async (): Promise<Metadata> => {
    await settlePageLanguage();
    return { ...rest, title: say(title) };
  };

type Prefetch = { key: QueryKey; load: () => Promise<unknown> };

/** Children with these queries already answered on the server, so that the first paint has its data. */
export async function withQueries(queries: Prefetch[], children: ReactNode): Promise<ReactNode> {
  const client = new QueryClient();
  await Promise.all(
    queries.map(({ key, load }) => client.prefetchQuery({ queryKey: key, queryFn: load, retry: false })),
  );
  return <HydrationBoundary state={dehydrate(client)}>{children}</HydrationBoundary>;
}

/** Loads a record for a page; what is not there (or not visible) is null, other failures go on. */
export async function orNull<T>(load: Promise<T>): Promise<T | null> {
  try {
    return await load;
  } catch (error) {
    if (error instanceof AppError && error.code === 'not-found') return null;
    throw error;
  }
}

export type SearchParams = Promise<Record<string, string | string[] | undefined>>;
export type RecordParams = Promise<{ id: string }>;

/** A list's query from its address; what does not fit falls back to the default, so that an old link still opens. */
export async function readListQuery<S extends z.ZodObject>(
  schema: S,
  searchParams: SearchParams,
): Promise<z.output<S>> {
  const given = await searchParams;
  const fitting = Object.entries(schema.shape).flatMap(([key, shape]) => {
    const parsed = z.safeParse(shape as z.ZodType, given[key]);
    return parsed.success && given[key] !== undefined ? [[key, given[key]] as const] : [];
  });
  return schema.parse(Object.fromEntries(fitting));
}

/** The id of a record's address; anything else is a page that does not exist. */
export async function readId(params: RecordParams): Promise<string> {
  const id = z.uuid().safeParse((await params).id);
  if (!id.success) notFound();
  return id.data;
}
