/* Without scripts there is no button, and the browser's own menu prints the page just as well. */
for (const button of document.querySelectorAll<HTMLButtonElement>("button.print")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
