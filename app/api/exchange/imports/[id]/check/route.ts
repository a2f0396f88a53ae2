import { importMapping, importRecord } from '@/lib/exchange/schema';
import { checkImport } from '@/lib/exchange/service/imports';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'imports.run',
  params: idParams,
  body: importMapping,
  response: importRecord,
  service: ({ context, params, body }) => checkImport(context, params.id, body),
});
