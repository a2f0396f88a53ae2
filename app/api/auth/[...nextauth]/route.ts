import { randomUUID } from 'node:crypto';
import NextAuth from 'next-auth';
import { AppError } from '@/lib/platform/errors';
import { problemResponse } from '@/lib/platform/http';
import { authOptions } from '@/lib/platform/identity/auth';

/** Sign-in by next-auth; a body that it cannot read is refused in words. */
const handler = async (request: Request, context: unknown): Promise<Response> => {
  try {
    return await NextAuth(authOptions())(request, context);
  } catch (error) {
    const unreadable = error instanceof SyntaxError || error instanceof TypeError;
    const refusal = new AppError('bad-request', 'This request cannot be read.', { cause: error });
    return problemResponse(unreadable ? refusal : error, randomUUID());
  }
};

export const GET = Object.assign(handler, { route: { permission: 'public', kind: 'read' } as const });
export const POST = Object.assign(handler.bind(null), {
  route: { permission: 'public', kind: 'command' } as const,
});
