import 'server-only';
import { dehydrate, HydrationBoundary, QueryClient, type QueryKey } from '@tanstack/react-query';
import { forbidden, redirect } from 'next/navigation';
import type { ReactNode } from 'react';
import type { Actor } from './actor';
import { AppError } from './errors';
import { currentActor } from './identity/session';
import { may, type Permission } from './permissions';

/** The signed-in person for a page; sends others to sign in, or to the page that says which right is missing. */
export async function requireActor(permission: Permission): Promise<Actor> {
  const actor = await currentActor();
  if (actor === null) redirect('/sign-in');
  if (!may(actor, permission)) forbidden();
  return actor;
}

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
