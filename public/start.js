// Shows on the first page whether the program came up, and lends the program the one thing it cannot
// do itself: open its second module when it is first needed. Everything else is the program's own work.
export default function start() {
  const line = () => document.getElementById("start");
  return {
    onSuccess: () => line()?.remove(),
    onFailure: (reason) => {
      const shown = line();
      if (shown) {
        shown.setAttribute("role", "alert");
        shown.textContent =
          "Swingtie could not start. What you recorded is untouched. Try to load the page again; " +
          "if it still does not start, this browser may be too old. (" + reason + ")";
      }
    },
  };
}

let opened;
let failures = 0;

// The module for the sheet and the files. The build writes its name into the page. A browser may
// remember that a module could not be had: after a failure it is asked for under another fragment.
function open() {
  opened ??= (async () => {
    const module = await import(new URL(document.body.dataset.office + (failures ? "#" + failures : ""), document.baseURI));
    await module.default();
    return module;
  })();
  return opened;
}

globalThis.swingtie = {
  // Runs a function of that module; its answer is an object.
  office: async (task, text, more) => {
    try {
      return JSON.parse((await open())[task](text, more));
    } catch (failure) {
      opened = undefined;
      failures += 1;
      throw failure;
    }
  },
  // The text of one of this site's own files.
  text: async (path) => {
    const answer = await fetch(path);
    if (!answer.ok) throw new Error(path + ": " + answer.status);
    return answer.text();
  },
};
