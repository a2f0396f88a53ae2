import Link from 'next/link';
import { PlainPage } from '@/components/ui/plain-page';

export const metadata = { title: 'Not found' };

export default function NotFound() {
  return (
    <PlainPage
      title="Nothing lies here"
      lede={
        <p>
          The address may be mistyped, the record may have been removed, or it may not be open to your roles.
          Nothing was changed.
        </p>
      }
    >
      <Link href="/">Go to your first page</Link>
    </PlainPage>
  );
}
