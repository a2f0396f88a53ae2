import { listPacks, loadPack } from '@/lib/permits/service/rule-packs';
import { loadPackRequest, packList, packRecord } from '@/lib/permits/wire';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'permits.see',
  response: packList,
  service: ({ actor }) => listPacks(actor),
});

export const POST = defineRoute({
  permission: 'permits.manage',
  body: loadPackRequest,
  response: packRecord,
  service: ({ context, body }) => loadPack(context, body),
});
