import { defineRoute } from '@/lib/platform/http';
import { findByCode } from '@/lib/storage/service/codes';
import { scanAnswer, scanQuery } from '@/lib/storage/wire';

export const GET = defineRoute({
  permission: 'storage.see',
  query: scanQuery,
  response: scanAnswer,
  service: ({ actor, query }) => findByCode(actor, query.code),
});
