/** The page of a quote: copy the customer's link. Without this script it is selected and copied. */

const link = document.querySelector("[data-copy-link]");
const button = document.querySelector("[data-copy]");
const said = document.querySelector("[data-copied]");

if (link && button && said && navigator.clipboard) {
  button.hidden = false;
  button.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(link.href);
      said.textContent = "Copied.";
    } catch {
      said.textContent = "This browser does not copy by itself: select the link above.";
    }
  });
}
