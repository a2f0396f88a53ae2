import { getLabelStock, renderLabels } from '@/lib/labels/public';
import { addressOf, defineFileRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { describeSlip } from '@/lib/salvage/service/slips';

/** The slip as a page to print, with its code. */
export const GET = defineFileRoute({
  permission: 'salvage.slips',
  params: idParams,
  service: async ({ actor, params, request }) => {
    const { institution, label, path } = await describeSlip(actor, params.id);
    const url = new URL(path, addressOf(request)).href;
    const slip = { institution: institution.slice(0, 80), url, slipNumber: label, contact: null };
    return {
      body: await renderLabels('drop-off-slip', [slip], getLabelStock('a4-slips-210x148')),
      mediaType: 'application/pdf',
      fileName: `drop-off-slip-${label}.pdf`,
      inline: true,
    };
  },
});
