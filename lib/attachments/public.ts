export { addFile } from './service';
export { verifyFiles } from './verify';
