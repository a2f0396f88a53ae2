import { say } from '@/lib/platform/words/say';
/** What can go wrong in a command, with the HTTP status each answers. */
export const ERROR_STATUS = {
  'bad-request': 400,
  'not-signed-in': 401,
  forbidden: 403,
  'not-found': 404,
  conflict: 409,
  'stale-version': 409,
  'not-valid': 422,
  'too-many': 429,
  unavailable: 503,
} as const;

export type ErrorCode = keyof typeof ERROR_STATUS;

export type FieldProblem = { path: string; message: string };

/** An expected failure: `message` is for the person, `detail` for the log only. */
export class AppError extends Error {
  readonly code: ErrorCode;
  readonly fields: FieldProblem[];
  readonly data: unknown;
  readonly detail: string | undefined;

  constructor(
    code: ErrorCode,
    message: string,
    extra: { fields?: FieldProblem[]; data?: unknown; detail?: string; cause?: unknown } = {},
  ) {
    super(message, { cause: extra.cause });
    this.name = 'AppError';
    this.code = code;
    this.fields = extra.fields ?? [];
    this.data = extra.data;
    this.detail = extra.detail;
  }

  get status(): number {
    return ERROR_STATUS[this.code];
  }
}

export const notFound = (what: string) =>
  new AppError(
    'not-found',
    say('{what} was not found. It may have been removed, or you may not see it.', { what }),
  );

export const forbidden = (message: string) => new AppError('forbidden', message);

export const notValid = (message: string, fields: FieldProblem[] = []) =>
  new AppError('not-valid', message, { fields });

export const conflict = (message: string, data?: unknown) => new AppError('conflict', message, { data });

/** A save that was made on an older version; `data.current` is what stands now. */
export const staleVersion = (what: string, current: unknown) =>
  new AppError('stale-version', say('{what} was changed by somebody else since you opened it.', { what }), {
    data: { current },
  });
