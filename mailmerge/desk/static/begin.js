// Beginning an order: the list is read anew as soon as something about it is put right.

const form = document.querySelector("[data-begin]");

if (form) {
  form.querySelector("[data-not-live]").hidden = true;
  const look = form.querySelector("[value=look]");
  form.addEventListener("change", (event) => {
    if (event.target.matches("[data-look]")) form.requestSubmit(look);
    if (event.target.matches("[data-coat]")) {
      const card = event.target.closest(".blank"), { colour } = event.target.selectedOptions[0].dataset;
      if (colour) for (const wall of card.querySelectorAll("svg .wall")) wall.setAttribute("fill", colour);
      card.querySelector("input[name=blank]").checked = true;
    }
    if (event.target.matches("[data-coat], input[name=blank]")) onCup(event.target.closest(".blank"));
    if (event.target.matches("input[name=title]")) show({ title: event.target.value });
  });

  /** Show the layouts on the blank and in the coat that are chosen. */
  function onCup(card) {
    form.querySelector("[data-on-which]")?.remove();
    show({ blank: card.querySelector("input[name=blank]").value, coat: card.querySelector("select").value });
  }

  /** Show the layouts with something else that is said. */
  function show(said) {
    for (const picture of form.querySelectorAll("img[data-layout]")) {
      const address = new URL(picture.src);
      for (const [name, text] of Object.entries(said)) address.searchParams.set(name, text);
      if (picture.src !== address.href) picture.src = address;
    }
  }
}
