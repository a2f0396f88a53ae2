import { PDFiumLibrary } from '@hyzyla/pdfium';

/** The text of each page of a PDF, read by PDFium. */
export async function readPages(pdf: Uint8Array): Promise<string[]> {
  const library = await PDFiumLibrary.init();
  try {
    const document = await library.loadDocument(pdf);
    return [...document.pages()].map((page) => page.getText());
  } finally {
    library.destroy();
  }
}
