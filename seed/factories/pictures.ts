import sharp from 'sharp';

/** A JPEG as a phone writes it, with the place of the shot and the day in it; each `seed` gives other bytes. */
export async function makePhoto(
  place: { latitude: number; longitude: number } | null,
  seed = 0,
): Promise<Buffer> {
  const picture = sharp({
    create: { width: 600, height: 400, channels: 3, background: { r: (seed * 40) % 256, g: 94, b: 94 } },
  }).jpeg();
  const day = { DateTimeOriginal: '2025:04:03 08:30:00', OffsetTimeOriginal: '-04:00' };
  if (place === null) return picture.withExif({ IFD2: day }).toBuffer();
  const dms = (degrees: number) => {
    const all = Math.abs(degrees);
    const minutes = Math.floor((all % 1) * 60);
    const seconds = Math.round((all * 3600 - Math.floor(all) * 3600 - minutes * 60) * 1000);
    return `${Math.floor(all)}/1 ${minutes}/1 ${seconds}/1000`;
  };
  return picture
    .withExif({
      IFD2: day,
      IFD3: {
        GPSLatitudeRef: place.latitude < 0 ? 'S' : 'N',
        GPSLatitude: dms(place.latitude),
        GPSLongitudeRef: place.longitude < 0 ? 'W' : 'E',
        GPSLongitude: dms(place.longitude),
      },
    })
    .toBuffer();
}
