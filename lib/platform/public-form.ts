import 'server-only';
import { randomUUID } from 'node:crypto';
import type { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { clientAddress } from './client-address';
import { AppError, notFound, notValid } from './errors';
import { problemResponse, type RouteDescription, refuseForeignOrigin } from './http';
import { consumeAttempt } from './rate-limit';
import { unfitPart } from './wire-text';

const LARGEST_BODY = 20_000;
const BY_TOKEN = { points: 60, seconds: 3600 };
const BY_ADDRESS = { points: 20, seconds: 3600 };

type PublicForm<B extends z.ZodType> = {
  /** Its limits are counted under this name. */
  name: string;
  /** What the token opens, for "… was not found". */
  what: string;
  body: B;
  /** Told when too much comes, after "Try again in n minutes". */
  otherwise: string;
  service: (token: string, body: z.output<B>) => Promise<unknown>;
};

/**
 * The route of a form for people without an account. The token of a one-purpose link in its address lets in this one
 * kind of request; limits count by address and by token; failures answer problem details like every route.
 */
export function definePublicForm<B extends z.ZodType>(form: PublicForm<B>) {
  const handler = async (
    request: Request,
    { params }: { params: Promise<{ token: string }> },
  ): Promise<Response> => {
    try {
      refuseForeignOrigin(request);
      const { token } = await params;
      if (unfitPart(token) !== null) throw notFound(form.what);
      await refuseFlood(request, token, form);
      return Response.json(await form.service(token, await readForm(request, form.body)));
    } catch (error) {
      return problemResponse(error, randomUUID());
    }
  };
  return Object.assign(handler, {
    route: { permission: 'public', kind: 'command' } satisfies RouteDescription,
  });
}

async function refuseFlood(
  request: Request,
  token: string,
  { name, otherwise }: Pick<PublicForm<z.ZodType>, 'name' | 'otherwise'>,
): Promise<void> {
  const address = clientAddress(request.headers.get('x-forwarded-for'));
  const waits = [
    await consumeAttempt(`${name} address:${address}`, BY_ADDRESS),
    await consumeAttempt(`${name} token:${token.slice(0, 40)}`, BY_TOKEN),
  ];
  const wait = Math.max(...waits);
  if (wait > 0)
    throw new AppError(
      'too-many',
      say('Much came this way. Try again in {ceil} minutes, {otherwise}', {
        ceil: Math.ceil(wait / 60),
        otherwise,
      }),
    );
}

async function readForm<B extends z.ZodType>(request: Request, schema: B): Promise<z.output<B>> {
  const text = await request.text();
  if (text.length > LARGEST_BODY) throw new AppError('bad-request', say('The form is too long.'));
  let body: unknown = null;
  try {
    body = JSON.parse(text);
  } catch {
    throw new AppError('bad-request', say('The form could not be read.'));
  }
  const unfit = unfitPart(body);
  if (unfit !== null) throw notValid(say('Nothing was sent yet.'), [unfit]);
  const parsed = schema.safeParse(body);
  if (parsed.success) return parsed.data;
  throw notValid(
    say('Nothing was sent yet.'),
    parsed.error.issues.map((issue) => ({ path: issue.path.join('.'), message: issue.message })),
  );
}
