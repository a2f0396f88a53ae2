import { z } from 'zod';
import { createDocument, type ZodOpenApiOperationObject, type ZodOpenApiPathsObject } from 'zod-openapi';
import { problemSchema } from '@/lib/platform/api';
import type { RouteDescription } from '@/lib/platform/http';

const METHODS = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE'] as const;
type Method = (typeof METHODS)[number];

/** A route module of app/, by its folder: 'api/salvage/[id]'. */
export type RouteModule = { folder: string; handlers: Readonly<Record<string, unknown>> };

export type ApiRoute = { method: Method; path: string; route: RouteDescription };

/** Every route that says what it is, in the order of their addresses. */
export function listApiRoutes(modules: readonly RouteModule[]): ApiRoute[] {
  return modules
    .flatMap(({ folder, handlers }) =>
      METHODS.flatMap((method): ApiRoute[] => {
        const route = (handlers[method] as { route?: RouteDescription } | undefined)?.route;
        return route === undefined ? [] : [{ method, path: addressOf(folder), route }];
      }),
    )
    .sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
}

/** 'api/loans/[id]/send' → '/api/loans/{id}/send'; a rest part takes the rest of the address. */
const addressOf = (folder: string): string => `/${folder.replace(/\[(?:\.\.\.)?(\w+)\]/g, '{$1}')}`;

/** The OpenAPI 3.1 document of these routes, from the very schemas that check them. */
export function describeApi(modules: readonly RouteModule[], server: string) {
  const paths: ZodOpenApiPathsObject = {};
  for (const { method, path, route } of listApiRoutes(modules)) {
    paths[path] = { ...paths[path], [method.toLowerCase()]: describeOperation(method, path, route) };
  }
  const document = createDocument({
    openapi: '3.1.0',
    info: {
      title: 'Furcula',
      version: '1',
      description:
        'Everything the pages do goes through these addresses. Send a token as "Authorization: Bearer …", or be signed in. Lists are read page by page: pass `next` of an answer as `after`. A command with an Idempotency-Key is carried out once, however often it arrives within 30 days. A read carries an ETag; ask again with If-None-Match, and an answer that is still the same is 304 without a body. Failures are problem details (RFC 9457).',
    },
    servers: [{ url: server }],
    security: [{ token: [] }],
    paths,
    components: {
      securitySchemes: { token: { type: 'http', scheme: 'bearer' } },
      schemas: { Problem: problemSchema },
    },
  });
  return { ...document, components: nameJsonValues(document.components) };
}

type Components = ReturnType<typeof createDocument>['components'];

/**
 * A value of any JSON shape is described by a schema that holds itself, which makers of clients cannot put into types;
 * a schema without conditions says the same.
 */
function nameJsonValues(components: Components): Components {
  const schemas = Object.entries(components?.schemas ?? {}).map(([name, schema]) => {
    const alternatives: unknown[] =
      typeof schema === 'object' && 'anyOf' in schema ? (schema.anyOf ?? []) : [];
    const holdsItself = alternatives.some(
      (one) =>
        JSON.stringify(one) ===
        JSON.stringify({ type: 'array', items: { $ref: `#/components/schemas/${name}` } }),
    );
    return [name, holdsItself ? { description: 'Any JSON value.' } : schema] as const;
  });
  return { ...components, schemas: Object.fromEntries(schemas) };
}

function describeOperation(method: Method, path: string, route: RouteDescription): ZodOpenApiOperationObject {
  const { schemas = {}, permission } = route;
  const failure = {
    description: 'Refused; the answer says why.',
    content: { 'application/problem+json': { schema: problemSchema } },
  };
  const tagged = hasTag(method, route);
  const answer =
    schemas.response === undefined
      ? { description: 'A file, a stream, or nothing.' }
      : {
          description: 'Done.',
          content: { 'application/json': { schema: schemas.response } },
          ...(tagged ? { headers: TAG_HEADERS } : {}),
        };
  return {
    operationId: `${method.toLowerCase()}${path.replace(/\W+(\w)/g, (_, letter: string) => letter.toUpperCase()).replace(/\W/g, '')}`,
    tags: [path.split('/')[2] ?? 'api'],
    summary: permission === 'public' ? 'For everybody' : `Needs ${permission}`,
    ...(permission === 'public' ? { security: [] } : {}),
    requestParams: listParams(method, path, route),
    ...describeBody(schemas.body),
    responses: {
      200: answer,
      ...(tagged
        ? { 304: { description: 'Not changed since the ETag sent as If-None-Match.', headers: TAG_HEADERS } }
        : {}),
      '4XX': failure,
      '5XX': failure,
    },
  };
}

/** Records and lists that are read carry an ETag; files and streams do not. */
const hasTag = (method: Method, { kind, schemas = {} }: RouteDescription): boolean =>
  method === 'GET' && kind === 'read' && schemas.response !== undefined;

const TAG_HEADERS = z.object({
  ETag: z.string().meta({ description: 'Strong tag of this very answer (RFC 9110).' }),
});

/** Names in the address, the query and the headers; parts that take none are left out. */
function listParams(
  method: Method,
  path: string,
  route: RouteDescription,
): ZodOpenApiOperationObject['requestParams'] {
  const { schemas = {}, kind } = route;
  const address = shapeOf(schemas.params) ?? pathParams(path);
  const query = shapeOf(schemas.query);
  return {
    ...(address === undefined ? {} : { path: address }),
    ...(query === undefined ? {} : { query }),
    ...(kind === 'command' && schemas.body !== 'file'
      ? { header: z.object({ 'Idempotency-Key': z.string().max(100).optional() }) }
      : {}),
    ...(hasTag(method, route) ? { header: z.object({ 'If-None-Match': z.string().optional() }) } : {}),
  };
}

function describeBody(body: z.ZodType | 'file' | undefined): Pick<ZodOpenApiOperationObject, 'requestBody'> {
  if (body === undefined) return {};
  const content =
    body === 'file'
      ? { 'application/octet-stream': { schema: { type: 'string' as const, format: 'binary' } } }
      : { 'application/json': { schema: body } };
  return { requestBody: { required: true, content } };
}

/** Addresses and queries are described name by name, so only objects can be. */
const shapeOf = (schema: z.ZodType | undefined): z.ZodObject | undefined =>
  schema instanceof z.ZodObject ? schema : undefined;

function pathParams(path: string): z.ZodObject | undefined {
  const names = [...path.matchAll(/\{(\w+)\}/g)].flatMap((match) => match[1] ?? []);
  return names.length === 0
    ? undefined
    : z.object(Object.fromEntries(names.map((name) => [name, z.string()])));
}
