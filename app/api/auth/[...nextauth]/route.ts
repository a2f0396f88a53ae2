import NextAuth from 'next-auth';
import { authOptions } from '@/lib/platform/identity/auth';

const handler = (request: Request, context: unknown) => NextAuth(authOptions())(request, context);

export const GET = Object.assign(handler, { route: { permission: 'public', kind: 'read' } as const });
export const POST = Object.assign(handler.bind(null), {
  route: { permission: 'public', kind: 'command' } as const,
});
