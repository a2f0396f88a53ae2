import { importRecord, undoRequest } from '@/lib/exchange/schema';
import { undoImport } from '@/lib/exchange/service/imports';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'imports.run',
  params: idParams,
  body: undoRequest,
  response: importRecord,
  service: ({ context, params, body }) => undoImport(context, params.id, body.reason),
});
