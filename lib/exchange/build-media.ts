import type { PublicPicture } from '@/lib/attachments/public';
import type { ExportMedia } from '@/lib/exchange/export-types';
import { dayOf } from '@/lib/platform/clock';

/** What is the same for every picture of an export: where this installation is reached, and the licence it shares under. */
export type MediaSource = { address: string; licenseIri: string };

/**
 * A public picture as the standards want it: its copy without metadata, at the address where it is fetched with a token
 * or a session. Captions are free words and left out where the bird's place is coarsened; file names never leave the
 * house. Who took it is not known, only who handed it in: no creator is named.
 */
export function buildMedia(picture: PublicPicture, coarse: boolean, source: MediaSource): ExportMedia {
  return {
    id: `urn:uuid:${picture.id}`,
    accessUri: new URL(`/api/attachments/${picture.id}/file?copy=public`, source.address).toString(),
    format: 'image/jpeg',
    title: coarse ? null : picture.caption,
    createdOn: picture.takenAt === null ? null : dayOf(picture.takenAt),
    creator: null,
    rights: source.licenseIri,
    sha256: picture.publicSha256,
    subjectPart: null,
    subjectOrientation: null,
  };
}
