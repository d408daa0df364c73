// Shows on the first page whether the program came up. Everything else is the program's own work.
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
