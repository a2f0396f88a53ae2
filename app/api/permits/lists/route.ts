import { importStatusList, listStatusLists } from '@/lib/permits/service/status-lists';
import { importListAnswer, importListRequest, statusLists } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'permits.see',
  response: statusLists,
  service: ({ actor }) => listStatusLists(actor),
});

export const POST = defineRoute({
  permission: 'permits.manage',
  body: importListRequest,
  response: importListAnswer,
  service: ({ context, body }) => importStatusList(context, body),
});
