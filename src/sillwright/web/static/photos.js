// Photos and notes at a place of the wall. A photo is made smaller here, which also leaves its position behind;
// whoever wants the position kept sends it as it is.

import { h } from "./dom.js";
import { jobPath } from "./api.js";
import * as queue from "./queue.js";
import { askWords, sheet } from "./sheet.js";
import { state, tell } from "./state.js";
import { t } from "./words.js";

const LONGEST_PX = 2048;
const shown = new Map(); // addresses of photos that are only here

/** Whether this phone's photos keep where they were taken: only where somebody chose so. */
export const keepsPosition = () => localStorage.getItem("photo-position") === "keep";
export const keepPosition = (keep) => localStorage.setItem("photo-position", keep ? "keep" : "leave");

async function smaller(file) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
    const canvas = h("canvas", {
      width: Math.round(picture.width * scale),
      height: Math.round(picture.height * scale),
    });
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    return (await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.85))) ?? file;
  } catch {
    return file; // the laptop judges what this phone cannot read
  }
}

/** A button that takes a photo for a place. */
export function addPhoto(place, step) {
  const input = h("input.hidden-file", {
    type: "file",
    accept: "image/jpeg",
    capture: "environment",
    "aria-label": t("photo.take"),
    onchange: async () => {
      const [file] = input.files;
      if (!file) return;
      const position = keepsPosition();
      await queue.keepPhoto(state.job, position ? file : await smaller(file), { place, step, position });
      tell(t("photo.kept"));
    },
  });
  return h("label.key.file", {}, input, h("span", { "aria-hidden": "true" }, t("photo.take")));
}

/** A button that writes a note for a place. */
export function addNote(place) {
  return h(
    "button.key",
    {
      onclick: async () => {
        const text = await askWords({
          title: t("note.title"),
          label: t("note.label"),
          button: t("note.done"),
          long: true,
        });
        if (!text) return;
        await queue.keep(state.job, "note.add", { place, text });
        tell(t("note.kept"));
      },
    },
    t("note.add"),
  );
}

function address(photo) {
  const item = state.outbox.find((each) => each.what === "photo" && each.photo === photo);
  if (item && !shown.has(photo)) shown.set(photo, URL.createObjectURL(item.blob));
  return shown.get(photo) ?? `${jobPath(state.job, `/photos/${photo}`)}`;
}

/** The photos of a place, small; a tap shows one large. */
export function photosAt(view, place) {
  const photos = view.folded.photos.filter((each) => each.place === place);
  return (
    photos.length > 0 &&
    h(
      "div.photos",
      {},
      photos.map(({ photo, at }) =>
        h(
          "button.photo",
          {
            "aria-label": t("photo.show", { at: at ?? "" }),
            onclick: () =>
              sheet({
                title: t("photo.title"),
                kind: "photo-sheet",
                fill: () => h("img", { src: address(photo), alt: t("photo.alt", { place }) }),
              }),
          },
          h("img", {
            src:
              shown.get(photo) ??
              address(photo) + (shown.has(photo) || address(photo).startsWith("blob:") ? "" : "?small=1"),
            alt: "",
            loading: "lazy",
          }),
        ),
      ),
    )
  );
}
