// Beginning an order: the list is read anew as soon as something about it is put right.

const form = document.querySelector("[data-begin]");

if (form) {
  form.querySelector("[data-not-live]").hidden = true;
  const look = form.querySelector("[value=look]");
  form.addEventListener("change", (event) => {
    if (event.target.matches("[data-look]")) form.requestSubmit(look);
    if (event.target.matches("[data-coat]")) {
      const blank = event.target.dataset.coat;
      form.querySelector(`img[data-blank="${CSS.escape(blank)}"]`).src = `/blanks/${blank}/${event.target.selectedIndex}.svg`;
      form.querySelector(`input[name=blank][value="${CSS.escape(blank)}"]`).checked = true;
    }
  });
}
