import { z } from 'zod';
import { say } from '@/lib/platform/words/say';

export const problemSchema = z.object({
  code: z.string(),
  title: z.string(),
  status: z.number(),
  fields: z.array(z.object({ path: z.string(), message: z.string() })).default([]),
  data: z.unknown(),
  requestId: z.string().optional(),
});
export type Problem = z.infer<typeof problemSchema>;

/** A command or read that the server refused, or that never reached it (`code` 'offline'). */
export class ApiProblem extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.title);
    this.name = 'ApiProblem';
    this.problem = problem;
  }
}

type Call<S extends z.ZodType> = {
  method?: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  body?: unknown;
  /** Sent as it is, instead of a body. */
  file?: Blob;
  /** What the answer must be: a schema, or what brings one that a page begins without. */
  schema: S | (() => Promise<S>);
  signal?: AbortSignal;
  /** Repeated deliveries with one key are carried out once. */
  idempotencyKey?: string;
};

/**
 * Calls this installation's API and parses the answer.
 * @throws ApiProblem for every failure a person should read.
 */
export async function callApi<S extends z.ZodType>(path: string, call: Call<S>): Promise<z.output<S>> {
  const response = await send(path, call);
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) {
    const schema = typeof call.schema === 'function' ? await call.schema() : call.schema;
    return schema.parse(body);
  }
  const parsed = problemSchema.safeParse(body);
  throw new ApiProblem(
    parsed.success
      ? parsed.data
      : {
          code: 'unexpected',
          title: say('The server answered {status}.', { status: response.status }),
          status: response.status,
          fields: [],
          data: null,
        },
  );
}

async function send(path: string, call: Call<z.ZodType>): Promise<Response> {
  const headers: Record<string, string> = {};
  if (call.body !== undefined) headers['content-type'] = 'application/json';
  if (call.idempotencyKey !== undefined) headers['idempotency-key'] = call.idempotencyKey;
  try {
    return await fetch(path, {
      method: call.method ?? 'GET',
      headers,
      body: call.file ?? (call.body === undefined ? undefined : JSON.stringify(call.body)),
      signal: call.signal,
    });
  } catch (cause) {
    if (cause instanceof DOMException && cause.name === 'AbortError') throw cause;
    throw new ApiProblem({
      code: 'offline',
      title: say(
        'The server cannot be reached. What you typed is kept here; it will be sent when the connection returns.',
      ),
      status: 0,
      fields: [],
      data: null,
    });
  }
}

/** A query string from defined values; empty when there are none. */
export function queryString(values: Record<string, string | number | boolean | undefined | null>): string {
  const pairs = Object.entries(values).filter(
    ([, value]) => value !== undefined && value !== null && value !== '',
  );
  return pairs.length === 0
    ? ''
    : `?${new URLSearchParams(pairs.map(([key, value]) => [key, String(value)]))}`;
}
