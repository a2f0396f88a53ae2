import { exportQuery } from '@/lib/exchange/schema';
import { exportBirds } from '@/lib/exchange/service/exports';
import { defineFileRoute } from '@/lib/platform/http';

export const GET = defineFileRoute({
  permission: 'materials.see',
  query: exportQuery,
  service: ({ context, query }) => exportBirds(context, 'materials', query),
});
