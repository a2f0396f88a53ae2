import { z } from 'zod';
import { describeApi } from '@/lib/exchange/openapi';
import { defineRoute } from '@/lib/platform/http';
import { routeModules } from './routes.generated';

export const GET = defineRoute({
  permission: 'workspace.enter',
  response: z.looseObject({ openapi: z.string() }),
  service: async ({ request }) => ({ ...describeApi(routeModules, new URL(request.url).origin) }),
});
