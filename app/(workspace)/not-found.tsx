import Link from 'next/link';
import { EmptyState } from '@/components/ui/empty-state';
import { paths } from '@/lib/platform/paths';

export default function WorkspaceNotFound() {
  return (
    <EmptyState title="Nothing is here" act={<Link href={paths.home}>Go to your desk</Link>}>
      <p>The record may be in another collection, or the address was cut short.</p>
    </EmptyState>
  );
}
