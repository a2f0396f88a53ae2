import { exportQuery } from '@/lib/exchange/schema';
import { exportBirds } from '@/lib/exchange/service/exports';
import { addressOf, defineFileRoute } from '@/lib/platform/http';

export const GET = defineFileRoute({
  permission: 'materials.see',
  query: exportQuery,
  service: ({ context, query, request }) => exportBirds(context, 'materials', query, addressOf(request)),
});
