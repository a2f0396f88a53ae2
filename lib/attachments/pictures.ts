import 'server-only';
import ExifReader from 'exifreader';
import sharp from 'sharp';
import { notValid } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';

/** Longest side of the copy that everybody sees, and of the thumbnail. */
const PUBLIC_PX = 2400;
const THUMB_PX = 360;
/** A picture of more pixels is refused: it would fill the memory. */
const MOST_PIXELS = 200_000_000;

export type ReadPicture = {
  widthPx: number;
  heightPx: number;
  /** As the camera's clock said, where it wrote down its offset. */
  takenAt: Date | null;
  hasPlace: boolean;
  publicCopy: Uint8Array;
  thumb: Uint8Array;
};

/**
 * Decodes a picture and makes its copies upright and without any metadata: sharp writes none unless asked to.
 * @throws AppError not-valid when it cannot be decoded.
 */
export async function readPicture(bytes: Uint8Array): Promise<ReadPicture> {
  try {
    const open = () => sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error' }).autoOrient();
    const copy = (px: number, quality: number) =>
      open()
        .resize(px, px, { fit: 'inside', withoutEnlargement: true })
        .flatten({ background: '#ffffff' })
        .jpeg({ quality })
        .toBuffer({ resolveWithObject: true });
    const whole = await open().metadata();
    const [publicCopy, thumb] = [await copy(PUBLIC_PX, 86), await copy(THUMB_PX, 78)];
    return {
      widthPx: whole.autoOrient.width,
      heightPx: whole.autoOrient.height,
      ...readTags(bytes),
      publicCopy: publicCopy.data,
      thumb: thumb.data,
    };
  } catch (cause) {
    const message = say('This picture cannot be read: it is damaged or cut short. Nothing was kept.');
    throw notValid(message, [{ path: 'file', message: cause instanceof Error ? message : String(cause) }]);
  }
}

/** The day and hour, and whether a place is in it; tags that cannot be read count as none. */
function readTags(bytes: Uint8Array): { takenAt: Date | null; hasPlace: boolean } {
  try {
    const tags = ExifReader.load(Buffer.from(bytes), { expanded: true });
    const said = tags.exif?.DateTimeOriginal?.description ?? '';
    const offset = tags.exif?.OffsetTimeOriginal?.description ?? '';
    const match = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)$/.exec(said);
    const takenAt =
      match && /^[+-]\d\d:\d\d$/.test(offset)
        ? new Date(`${match[1]}-${match[2]}-${match[3]}T${match[4]}${offset}`)
        : null;
    return {
      takenAt: takenAt !== null && Number.isNaN(takenAt.getTime()) ? null : takenAt,
      hasPlace: tags.gps?.Latitude !== undefined || tags.gps?.Longitude !== undefined,
    };
  } catch {
    return { takenAt: null, hasPlace: false };
  }
}
