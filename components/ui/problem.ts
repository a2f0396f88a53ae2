import type { z } from 'zod';
import { translate } from '@/lib/platform/words/say';

/** What the pages know of a failed call: the title for the person, the status, the number to quote. */
export type ProblemLike = {
  title?: string;
  status?: number;
  code?: string;
  requestId?: string;
  fields?: { path: string; message: string }[];
};

/** The problem an error carries (`error.problem`), or what can be read off the error itself. */
export function problemOf(error: unknown): ProblemLike {
  if (typeof error !== 'object' || error === null) return {};
  const carried = (error as { problem?: unknown }).problem;
  if (typeof carried === 'object' && carried !== null) return carried;
  const { message, status, digest } = error as { message?: string; status?: number; digest?: string };
  return { title: message, status, requestId: digest };
}

/** An answer that a second try cannot change: the request itself was at fault (HTTP 4xx, but for "too many"). */
export function isFinalError(error: unknown): boolean {
  const status = problemOf(error).status ?? 0;
  return status >= 400 && status < 500 && status !== 429;
}

/** What a form's schema refuses, by the path of each field. */
export const problemsIn = (error: z.ZodError): { path: string; message: string }[] =>
  error.issues.map(({ path, message }) => ({ path: path.join('.'), message: translate(message) }));
