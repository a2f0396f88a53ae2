import { importRecord } from '@/lib/exchange/schema';
import { showImport } from '@/lib/exchange/service/imports';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'imports.run',
  params: idParams,
  response: importRecord,
  service: ({ actor, params }) => showImport(actor, params.id),
});
