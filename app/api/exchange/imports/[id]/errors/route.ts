import { writeImportErrors } from '@/lib/exchange/service/imports';
import { defineFileRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineFileRoute({
  permission: 'imports.run',
  params: idParams,
  service: ({ actor, params }) => writeImportErrors(actor, params.id),
});
