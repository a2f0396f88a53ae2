export { findPublicPictures, type PublicPicture } from './repo';
export { FILE_COPIES, type FileCopy } from './schema';
export { addFile } from './service';
export {
  dropCopies as dropStoredCopies,
  putCopy as putStoredCopy,
  readCopy as readStoredCopy,
} from './store';
export { verifyFiles } from './verify';
