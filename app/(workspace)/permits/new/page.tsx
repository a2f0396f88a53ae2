import { PermitForm } from '@/components/permits/permit-form';
import { listPermitDefaults } from '@/lib/permits/service/rule-packs';
import { requireActor, titled } from '@/lib/platform/page';

export const generateMetadata = titled('Enter a permit');

export default async function NewPermitPage() {
  const actor = await requireActor('permits.manage');
  return <PermitForm defaults={await listPermitDefaults(actor)} />;
}
