import { z } from 'zod';
import { importRecord } from '@/lib/exchange/schema';
import { cancelImport } from '@/lib/exchange/service/imports';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'imports.run',
  params: idParams,
  body: z.object({}),
  response: importRecord,
  service: ({ context, params }) => cancelImport(context, params.id),
});
