// Starts the program and shows on the first page whether it came up. The build writes the names of the
// program's files into this text. Everything else is the program's own work.

// What it asks of this page: the text of one of this site's own files, and what makes pictures small.
globalThis.swingtie = {
  text: async (path) => {
    const answer = await fetch(path);
    if (!answer.ok) throw new Error(path + ": " + answer.status);
    return answer.text();
  },
  photos: () => import("./PHOTOS").then((photos) => photos.studio()),
};

const line = document.getElementById("start");
import("./PROGRAM")
  .then((program) => program.default({ module_or_path: new URL("./FIRST", import.meta.url) }))
  .then(
    () => {
      line.remove();
      // How the screens look that come after the first.
      document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: "./LATER" }));
    },
    (reason) => {
      line.setAttribute("role", "alert");
      line.textContent =
        "Swingtie could not start. What you recorded is untouched. Try to load the page again; " +
        "if it still does not start, this browser may be too old. (" + reason + ")";
      throw reason;
    },
  );
