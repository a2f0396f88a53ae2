import { say } from '@/lib/platform/words/say';
/** What a file is, told by its first and last bytes and not by its name. */
export type FileKind = 'image/jpeg' | 'image/png' | 'image/webp' | 'image/tiff' | 'application/pdf';
export type KindVerdict = { ok: true; kind: FileKind } | { ok: false; reason: string };

const startsWith = (bytes: Uint8Array, signature: readonly number[], at = 0): boolean =>
  signature.every((byte, index) => bytes[at + index] === byte);
const ascii = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));

const WHAT_GOES = 'Add a photo as JPEG, PNG, WebP or TIFF, or a document as PDF.';
/** How far from its end a PDF's closing mark may stand (ISO 32000-1, implementation note 18: the last 1024 bytes). */
const PDF_TAIL = 1024;

/** The brands under which a phone writes HEIC and AVIF (ISO/IEC 23008-12), after "ftyp". */
const PHONE_BRANDS = ['heic', 'heix', 'hevc', 'mif1', 'msf1', 'avif'];

/**
 * Signatures: JPEG ISO/IEC 10918-1 (SOI), PNG W3C recommendation 5.2, WebP RFC 9649, TIFF 6.0 section 2, PDF ISO 32000-1
 * 7.5.2. Whether a picture is whole is seen when it is decoded. Never throws.
 */
export function kindOf(bytes: Uint8Array): KindVerdict {
  if (startsWith(bytes, [0xff, 0xd8, 0xff])) return { ok: true, kind: 'image/jpeg' };
  if (startsWith(bytes, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]))
    return { ok: true, kind: 'image/png' };
  if (startsWith(bytes, ascii('RIFF')) && startsWith(bytes, ascii('WEBP'), 8))
    return { ok: true, kind: 'image/webp' };
  if (startsWith(bytes, [0x49, 0x49, 0x2a, 0x00]) || startsWith(bytes, [0x4d, 0x4d, 0x00, 0x2a]))
    return { ok: true, kind: 'image/tiff' };
  if (startsWith(bytes, ascii('%PDF-'))) return pdfVerdict(bytes);
  if (startsWith(bytes, ascii('ftyp'), 4)) {
    const brand = String.fromCharCode(...bytes.subarray(8, 12));
    if (PHONE_BRANDS.includes(brand))
      return {
        ok: false,
        reason: say(
          'This is a HEIC or AVIF photo, which cannot be read here. Have the phone save as JPEG (“most compatible”) and add it again.',
        ),
      };
  }
  return {
    ok: false,
    reason: say('What is in this file is neither a photo nor a PDF, whatever its name says. {whatGoes}', {
      whatGoes: WHAT_GOES,
    }),
  };
}

function pdfVerdict(bytes: Uint8Array): KindVerdict {
  const tail = String.fromCharCode(...bytes.subarray(Math.max(0, bytes.length - PDF_TAIL)));
  return tail.includes('%%EOF')
    ? { ok: true, kind: 'application/pdf' }
    : { ok: false, reason: say('This PDF ends too early: it was cut short. Save it again and add it.') };
}

export const isPicture = (mediaType: string): boolean => mediaType.startsWith('image/');

const ENDINGS: Record<FileKind, string> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
  'image/tiff': 'tif',
  'application/pdf': 'pdf',
};

/** The name without folders and signs that a file system minds, ending as its content asks. */
export function safeFileName(given: string, kind: FileKind): string {
  const last = given.split(/[\\/]/).at(-1) ?? '';

  const stem = last
    .replace(/\.[^.]*$/, '')
    .replace(/[\p{Cc}"<>|:*?]/gu, '')
    .trim();
  return `${stem === '' ? 'file' : stem}.${ENDINGS[kind]}`;
}
