// A photo as it is kept: encoded anew, upright, at a size that shows a seal. Where it was taken and by what is not in it any more.
const longest = 1600;
const quality = 0.8;

export async function shrink(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await new Promise((resolve, reject) => canvas.toBlob(made => made ? resolve(made) : reject(new Error("no picture")), "image/jpeg", quality));
  const bytes = new Uint8Array(await blob.arrayBuffer());
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return { bytes, sha: [...hash].map(byte => byte.toString(16).padStart(2, "0")).join("") };
}
