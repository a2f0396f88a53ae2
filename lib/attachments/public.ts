export { findPublicPictures, type PublicPicture } from './repo';
export { addFile } from './service';
export { verifyFiles } from './verify';
