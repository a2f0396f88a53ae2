import 'server-only';
import { createHash, randomUUID } from 'node:crypto';
import type { z } from 'zod';
import { phrases, say, translate } from '@/lib/platform/words/say';
import type { Actor, CommandContext } from './actor';
import { settings } from './env';
import { AppError, type FieldProblem, notValid } from './errors';
import { namesTag, tagOf } from './etag';
import { renewing } from './identity/renewal';
import { currentActor } from './identity/session';
import { answeredOnce } from './kept-answers';
import { log } from './log';
import { saysDatabaseIsLost } from './lost-database';
import { may, type Permission } from './permissions';
import { serve } from './serve';
import { unfitPart } from './wire-text';
import { inLanguageOfRequest } from './words/request-language';

const MAX_BODY_BYTES = 1_000_000;
const RETRY_SECONDS = '2';

export type RouteDescription = {
  permission: Permission | 'public';
  kind: 'read' | 'command';
  /** What goes in and out, for the API's own description; `response` is missing where a file is answered. */
  schemas?: {
    params?: z.ZodType;
    query?: z.ZodType;
    body?: z.ZodType | 'file';
    response?: z.ZodType;
  };
};

type RouteInput<P, Q, B> = {
  actor: Actor;
  context: CommandContext;
  params: P;
  query: Q;
  body: B;
  request: Request;
};

type RouteDefinition<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType, R extends z.ZodType> = {
  /** Asked before anything is read; services ask again about the record itself. */
  permission: Permission;
  params?: P;
  query?: Q;
  body?: B;
  response: R;
  service: (input: RouteInput<z.output<P>, z.output<Q>, z.output<B>>) => Promise<z.input<R>>;
};

/** A route without such parts in its address is given none at all. */
type NextContext = { params: Promise<Record<string, string | string[] | undefined> | undefined> };
export type RouteHandler = ((request: Request, context: NextContext) => Promise<Response>) & {
  route: RouteDescription;
};

/**
 * One HTTP route: permission, schemas and service, nothing else. Reads are GET; every other method is a command and
 * may carry an Idempotency-Key header (a repeated delivery gets the first answer). A read carries an ETag and answers
 * 304 to an If-None-Match that names it. Failures answer problem details (RFC 9457).
 */
export function defineRoute<
  P extends z.ZodType,
  Q extends z.ZodType,
  B extends z.ZodType,
  R extends z.ZodType,
>(definition: RouteDefinition<P, Q, B, R>): RouteHandler {
  const handler = async (request: Request, next: NextContext): Promise<Response> => {
    const requestId = randomUUID();
    try {
      const actor = await actorFor(request, definition.permission);
      const params = parsePart(definition.params, await next.params, 'address');
      const query = parsePart(
        definition.query,
        Object.fromEntries(new URL(request.url).searchParams),
        'query',
      );
      const rawBody = definition.body === undefined ? undefined : await readJson(request);
      const body = parsePart(definition.body, rawBody, 'body');
      const context = commandContext(request, actor, requestId, rawBody);
      const input = {
        actor,
        context,
        params: params as z.output<P>,
        query: query as z.output<Q>,
        body: body as z.output<B>,
        request,
      };
      const answer = await answeredOnce(context, definition.response, () => definition.service(input));
      return request.method === 'GET'
        ? answerRead(request, answer, requestId)
        : Response.json(answer, { headers: { 'x-request-id': requestId } });
    } catch (error) {
      return problemResponse(error, requestId);
    }
  };
  return Object.assign(serve(inLanguageOfRequest(renewing(handler)), turnAway), {
    route: {
      permission: definition.permission,
      kind: definition.body === undefined ? 'read' : 'command',
      schemas: pickSchemas(definition),
    } satisfies RouteDescription,
  });
}

/** A read is asked anew each time; whoever holds the same answer already gets no body. */
function answerRead(request: Request, answer: unknown, requestId: string): Response {
  const body = JSON.stringify(answer);
  const etag = tagOf(body);
  const headers = { etag, 'cache-control': 'private, no-cache', 'x-request-id': requestId };
  if (namesTag(request.headers.get('if-none-match'), etag))
    return new Response(null, { status: 304, headers });
  return new Response(body, { headers: { ...headers, 'content-type': 'application/json' } });
}

/**
 * A route that takes a file as the request's body, streamed to the service as it arrives. The same gate and problem
 * answers as defineRoute; the query says what the file is.
 */
export function defineUploadRoute<P extends z.ZodType, Q extends z.ZodType, R extends z.ZodType>(definition: {
  permission: Permission;
  params?: P;
  query?: Q;
  response: R;
  service: (
    input: RouteInput<z.output<P>, z.output<Q>, ReadableStream<Uint8Array> | null>,
  ) => Promise<z.input<R>>;
}): RouteHandler {
  const handler = async (request: Request, next: NextContext): Promise<Response> => {
    const requestId = randomUUID();
    try {
      const actor = await actorFor(request, definition.permission);
      const params = parsePart(definition.params, await next.params, 'address') as z.output<P>;
      const query = parsePart(
        definition.query,
        Object.fromEntries(new URL(request.url).searchParams),
        'query',
      ) as z.output<Q>;
      const context = { actor, requestId };
      const result = await definition.service({ actor, context, params, query, body: request.body, request });
      return Response.json(definition.response.parse(result), { headers: { 'x-request-id': requestId } });
    } catch (error) {
      return problemResponse(error, requestId);
    }
  };
  return Object.assign(serve(inLanguageOfRequest(renewing(handler)), turnAway), {
    route: {
      permission: definition.permission,
      kind: 'command',
      schemas: { ...pickSchemas(definition), body: 'file' },
    } satisfies RouteDescription,
  });
}

/** A route that answers a file. The same permission gate and problem answers as defineRoute. */
export function defineFileRoute<P extends z.ZodType, Q extends z.ZodType>(definition: {
  permission: Permission;
  params?: P;
  query?: Q;
  service: (input: RouteInput<z.output<P>, z.output<Q>, undefined>) => Promise<FileAnswer>;
}): RouteHandler {
  const handler = async (request: Request, next: NextContext): Promise<Response> => {
    const requestId = randomUUID();
    try {
      const actor = await actorFor(request, definition.permission);
      const params = parsePart(definition.params, await next.params, 'address') as z.output<P>;
      const query = parsePart(
        definition.query,
        Object.fromEntries(new URL(request.url).searchParams),
        'query',
      ) as z.output<Q>;
      const context = { actor, requestId };
      const file = await definition.service({ actor, context, params, query, body: undefined, request });
      return new Response(file.body as BodyInit, {
        headers: {
          'content-type': file.mediaType,
          'content-disposition': `${file.inline ? 'inline' : 'attachment'}; filename*=UTF-8''${encodeURIComponent(file.fileName)}`,
          'x-content-type-options': 'nosniff',
          'cache-control': 'private, no-store',
          'x-request-id': requestId,
        },
      });
    } catch (error) {
      return problemResponse(error, requestId);
    }
  };
  return Object.assign(serve(renewing(handler), turnAway), {
    route: {
      permission: definition.permission,
      kind: 'read',
      schemas: pickSchemas(definition),
    } satisfies RouteDescription,
  });
}

export type FileAnswer = {
  body: Uint8Array | ReadableStream<Uint8Array> | string;
  mediaType: string;
  fileName: string;
  inline?: boolean;
};

/** Said when more requests run than MAX_REQUESTS: nothing of this one was begun. */
const turnAway = (): Response =>
  problemResponse(
    new AppError(
      'unavailable',
      say('Many people ask at once. Nothing was saved; it is tried again in a moment.'),
    ),
    randomUUID(),
  );

type Schemas = { params?: z.ZodType; query?: z.ZodType; body?: z.ZodType; response?: z.ZodType };

const pickSchemas = ({ params, query, body, response }: Schemas): Schemas => ({
  params,
  query,
  body,
  response,
});

async function actorFor(request: Request, permission: Permission): Promise<Actor> {
  refuseForeignOrigin(request);
  const actor = await currentActor();
  if (actor === null)
    throw new AppError('not-signed-in', say('Your session or token has ended. Sign in and try again.'));
  if (!may(actor, permission)) {
    const whose = actor.scopes === undefined ? say('Your roles do') : say('This token does');
    throw new AppError('forbidden', say('{whose} not allow this ({permission}).', { whose, permission }));
  }
  return actor;
}

/** A browser sends Origin with every command: another site's page may not command ours. */
export function refuseForeignOrigin(request: Request): void {
  if (request.method === 'GET' || request.method === 'HEAD') return;
  const origin = request.headers.get('origin');
  const host = request.headers.get('x-forwarded-host') ?? request.headers.get('host');
  if (origin === null || host === null) return;
  if (!URL.canParse(origin) || new URL(origin).host !== host) {
    throw new AppError('forbidden', say('This request came from another site and was refused.'));
  }
}

/** Where people reach this installation, for links that leave it: on paper or by mail. */
export function addressOf(request: Request): string {
  const fixed = settings().FURCULA_URL ?? settings().NEXTAUTH_URL;
  if (fixed !== undefined) return fixed;
  const host = request.headers.get('x-forwarded-host') ?? request.headers.get('host');
  const protocol = request.headers.get('x-forwarded-proto') ?? 'http';
  return host === null ? request.url : `${protocol}://${host}`;
}

const REFUSALS = phrases({
  address: 'Something in the address is not right. Nothing was saved.',
  query: 'Something in the query is not right. Nothing was saved.',
  body: 'Something in the body is not right. Nothing was saved.',
});

function parsePart<S extends z.ZodType>(
  schema: S | undefined,
  value: unknown,
  part: keyof typeof REFUSALS,
): z.output<S> | undefined {
  if (schema === undefined) return undefined;
  const refusal = REFUSALS[part];
  const unfit = unfitPart(value);
  if (unfit !== null) throw notValid(refusal, [unfit]);
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  throw notValid(
    refusal,
    parsed.error.issues.map(
      (issue): FieldProblem => ({ path: issue.path.join('.'), message: issue.message }),
    ),
  );
}

async function readJson(request: Request): Promise<unknown> {
  const text = await request.text();
  if (text.length > MAX_BODY_BYTES)
    throw new AppError('bad-request', say('The request is larger than 1 MB.'));
  try {
    return text === '' ? {} : JSON.parse(text);
  } catch (cause) {
    throw new AppError('bad-request', say('The request body is not JSON.'), { cause });
  }
}

function commandContext(request: Request, actor: Actor, requestId: string, rawBody: unknown): CommandContext {
  const key = request.headers.get('idempotency-key');
  if (key === null || rawBody === undefined || actor.personId === null) return { actor, requestId };
  if (key.length > 100)
    throw new AppError('bad-request', say('The Idempotency-Key is longer than 100 characters.'));
  const bodyDigest = createHash('sha256').update(JSON.stringify(rawBody)).digest('hex');
  const route = `${request.method} ${new URL(request.url).pathname}`;
  return { actor, requestId, idempotency: { key, route, bodyDigest } };
}

/** A connection that breaks may have carried the command out before: only looking, or sending it again, tells. */
const databaseIsLost = (cause: unknown): AppError =>
  new AppError(
    'unavailable',
    say('The database cannot be reached just now. Look whether it was saved before you do it again.'),
    { cause, detail: String(cause) },
  );

/** Any failure as problem details; what is not expected is logged and said without detail. */
export function problemResponse(error: unknown, requestId: string): Response {
  const known = error instanceof AppError ? error : saysDatabaseIsLost(error) ? databaseIsLost(error) : null;
  if (known === null) log().error({ err: error, requestId }, 'request failed');
  else if (known.detail !== undefined) log().warn({ requestId, detail: known.detail }, known.message);
  const status = known?.status ?? 500;
  return Response.json(
    {
      type: `about:blank#${known?.code ?? 'unexpected'}`,
      code: known?.code ?? 'unexpected',
      title:
        known?.message ?? say('Something went wrong on our side. Nothing was saved; the failure was logged.'),
      status,
      fields: known?.fields.map(({ path, message }) => ({ path, message: translate(message) })) ?? [],
      data: known?.data ?? null,
      requestId,
    },
    {
      status,
      headers: {
        'content-type': 'application/problem+json',
        'x-request-id': requestId,
        ...(known?.code === 'unavailable' ? { 'retry-after': RETRY_SECONDS } : {}),
      },
    },
  );
}
