# ruff: noqa: E501 - a drawing is read best on one line
"""Small drawings of every kind that logos are made of; all of them our own."""

from __future__ import annotations

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '


def svg(body: str, head: str = 'viewBox="0 0 100 60"') -> str:
    """Return a whole file around what is drawn."""
    return f"{HEAD}{head}>{body}</svg>"


LEAF = '<path id="leaf" d="M0 0C6-8 18-8 24 0C18 8 6 8 0 0z"/>'

RIGHT = {
    # Shapes, and what of their attributes may be left out
    "circle-at-the-origin-stroked": svg(
        '<g transform="translate(200 200)"><circle r="47" fill="none" stroke-width="3" '
        'stroke="black"/></g>', 'viewBox="0 0 400 400"',
    ),
    "target": svg(
        '<g transform="translate(50 30)" fill="none" stroke="#000" stroke-width="3"><circle r="8"/>'
        '<circle r="16"/><ellipse rx="40" ry="25"/></g>'
    ),
    "rect-without-x-and-y": svg('<rect width="40" height="30"/>'),
    "rect-with-one-radius": svg(
        '<rect x="5" y="5" width="40" height="30" ry="9"/><rect x="50" y="5" width="30" '
        'height="30" rx="50" ry="4"/>'
    ),
    "background-that-nobody-sees": svg('<g style="background:black"><rect x="5" y="5" width="40" height="30" style="background-color:black"/></g><svg x="50" width="40" height="50" style="background:black"><circle cx="20" cy="20" r="9"/></svg>', 'viewBox="0 0 100 60" style="enable-background:new 0 0 100 60"'),
    "ellipse-with-one-radius": svg('<ellipse cx="40" cy="30" rx="20"/>'),
    "line-from-the-origin": svg('<line x2="80" y2="50" stroke="black" stroke-width="4"/>'),
    "polyline-filled": svg('<polyline points="10,10 90 10,50,50" stroke="black" fill="black"/>'),
    "millimetres": svg('<rect x="2mm" y="1mm" width="10mm" height="5mm"/>'),
    "percent": svg('<rect x="10%" y="10%" width="50%" height="40%"/><circle cx="80%" cy="50%" r="10%"/>'),
    # Path data
    "short-curve-after-a-line": svg('<path d="M10 30L30 10S60 0 70 30T90 40V55H10z"/>'),
    "short-quadratic-after-a-cubic": svg('<path d="M10 30C10 0 40 0 40 30T80 30S70 60 50 55z"/>'),
    "short-curves-in-a-row": svg('<path d="m10 30s10-20 20 0 20 20 20 0t20 5 10 20h-70z"/>'),
    "goes-on-after-closing": svg('<path d="M10 10h20v20zl30 30h20zm50 0h10v10z"/>'),
    "numbers-run-together": svg('<path d="M10-.0.5.5L60.5.5 50 50-0-5e-1z"/>'),
    "flags-run-together": svg('<path d="M20 30a15 15 0 1140 0 15 15 0 11-40 0z"/>'),
    "arc-too-small": svg('<path d="M20 30A5 5 0 0 1 80 30L50 55z"/>'),
    "arc-turned": svg('<path d="M20 30A40 15 30 1 0 70 20z"/>'),
    "even-odd": svg('<path fill-rule="evenodd" d="M10 5h60v50h-60zM25 15v30h30v-30z"/>'),
    "wound-alike": svg('<path d="M10 5h60v50h-60zM25 15h30v30h-30z"/>'),
    "crosses-itself": svg('<path d="M50 2L75 58L10 22H90L25 58z"/>'),
    "crosses-itself-even-odd": svg('<path fill-rule="evenodd" d="M50 2L75 58L10 22H90L25 58z"/>'),
    # Groups, transforms, origins
    "transform-list": svg('<rect transform="translate(20,10)rotate(20) scale(1.5 .8)" width="20" height="20"/>'),
    "rotate-about": svg('<rect transform="rotate(30 50 30)" x="40" y="20" width="20" height="20"/>'),
    "skew": svg('<rect transform="skewX(20) skewY(5)" x="10" y="10" width="30" height="20"/>'),
    "transform-origin": svg('<rect transform="rotate(45)" transform-origin="50 30" x="40" y="20" width="20" height="20"/>'),
    "transform-origin-words": svg('<g transform="scale(.5)" transform-origin="right bottom"><rect x="20" y="10" width="60" height="40"/></g>'),
    "inherits-stroke": svg('<g stroke="black" stroke-width="5" fill="none"><path d="M10 10L50 50"/><g stroke-width="1.5"><path d="M40 10L90 50"/></g></g>'),
    "style-over-attribute": svg('<rect width="30" height="30" fill="white" style="fill:black"/><rect x="50" width="30" height="30" style="fill:#fff!important;fill:black"/>'),
    "inherit": svg('<g fill="none" stroke="black"><circle cx="30" cy="30" r="20" fill="inherit" stroke-width="3"/></g>'),
    "current-color": svg('<g color="black" fill="white"><rect x="9" y="9" width="30" height="30" fill="currentColor"/></g>'),
    "negative-scale-stroke": svg('<g transform="translate(90 5) scale(-1 1)"><path d="M5 5h30l20 40" fill="none" stroke="black" stroke-width="4"/></g>'),
    "uneven-scale-stroke": svg('<circle r="10" transform="translate(50 30) scale(3 1)" fill="none" stroke="black" stroke-width="4"/>'),
    # use, symbol, inner svg
    "nested-use": svg(f'<defs>{LEAF}<g id="two"><use href="#leaf"/><use xlink:href="#leaf" y="20"/></g></defs><use href="#two" x="10" y="15"/><use href="#two" transform="translate(60 15) rotate(20)"/>'),
    "use-inherits": svg('<defs><path id="p" d="M0 0h20v20"/></defs><use href="#p" x="10" y="10" fill="none" stroke="black" stroke-width="2"/>'),
    "symbol-with-view-box": svg('<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="6"/></symbol><use href="#s" x="10" y="5" width="40" height="40"/><use href="#s" x="60" y="15" width="20" height="30"/>'),
    "symbol-overflowing": svg('<symbol id="s" viewBox="0 0 10 10" overflow="visible"><circle cx="5" cy="5" r="6"/></symbol><use href="#s" x="10" y="10" width="30" height="30"/>'),
    "inner-svg": svg('<svg x="10" y="10" width="30" height="30"><circle cx="15" cy="15" r="20"/></svg>'),
    "inner-svg-with-view-box": svg('<svg x="10" y="5" width="60" height="50" viewBox="0 0 20 10" preserveAspectRatio="xMinYMax slice"><circle cx="9" cy="5" r="6"/></svg>'),
    "inner-svg-overflowing": svg('<svg x="20" y="20" width="20" height="20" overflow="visible"><circle cx="10" cy="10" r="15"/></svg>'),
    "use-of-an-inner-svg": svg('<defs><svg id="s" width="20" height="20" viewBox="0 0 10 10"><rect x="2" y="2" width="20" height="3"/></svg></defs><use href="#s" x="10" y="10"/><use href="#s" x="40" y="10" width="40" height="40"/>'),
    "aspect-none": svg('<svg x="5" y="5" width="90" height="20" viewBox="0 0 10 10" preserveAspectRatio="none"><circle cx="5" cy="5" r="5"/></svg>'),
    # What is not seen
    "outside-the-view-box": svg('<circle cx="10" cy="30" r="25"/><rect x="80" y="40" width="50" height="50"/>'),
    "view-box-off-the-origin": svg('<rect x="-40" y="-20" width="50" height="30"/>', 'viewBox="-50 -30 100 60"'),
    "letterboxed": svg('<circle cx="50" cy="30" r="45"/>', 'width="300" height="120" viewBox="0 0 100 60"'),
    "width-alone": svg('<circle cx="50" cy="30" r="25"/>', 'width="30mm" viewBox="0 0 100 60"'),
    "no-view-box": svg('<circle cx="50" cy="30" r="25"/>', 'width="100" height="60"'),
    "display-none": svg('<g display="none"><rect width="90" height="9"/></g><rect y="20" width="30" height="20"/>'),
    "hidden-and-visible-within": svg('<g visibility="hidden"><rect width="90" height="9"/><rect y="20" width="30" height="20" visibility="visible"/></g>'),
    "no-opacity": svg('<rect width="90" height="9" opacity="0"/><rect y="20" width="30" height="20"/><rect y="45" width="30" height="9" fill-opacity="0"/>'),
    "stroke-of-width-nought": svg('<rect x="10" y="10" width="30" height="20" stroke="white" stroke-width="0"/><line x1="60" x2="90" y1="10" y2="50" stroke="black" stroke-width="0"/>'),
    "rect-without-width": svg('<rect height="30" stroke="black"/><rect x="40" width="30" height="30"/>'),
    "missing-target": svg('<use href="#none"/><rect x="40" width="30" height="30"/>'),
    "defs-are-not-drawn": svg('<defs><rect width="90" height="50"/></defs><symbol><rect width="90" height="50"/></symbol><circle cx="30" cy="30" r="12"/>'),
    # Strokes
    "caps": svg('<g stroke="black" stroke-width="8" fill="none"><path d="M10 10H80"/><path d="M10 28H80" stroke-linecap="round"/><path d="M10 46H80" stroke-linecap="square"/></g>'),
    "joins": svg('<g stroke="black" stroke-width="6" fill="none"><path d="M5 50L18 10L30 50"/><path d="M37 50L49 10L61 50" stroke-linejoin="round"/><path d="M68 50L80 10L92 50" stroke-linejoin="bevel"/></g>'),
    "miter-limit": svg('<g stroke="black" stroke-width="5" fill="none"><path d="M10 50L16 12L22 50" stroke-miterlimit="9"/><path d="M50 50L56 12L62 50" stroke-miterlimit="2"/></g>'),
    "dashes": svg('<circle cx="30" cy="30" r="22" fill="none" stroke="black" stroke-width="4" stroke-dasharray="9 5 2"/><path d="M60 10H95V50" fill="none" stroke="black" stroke-width="3" stroke-dasharray="6,3" stroke-dashoffset="4"/>'),
    "round-dots": svg('<path d="M10 30H90" stroke="black" stroke-width="6" stroke-linecap="round" stroke-dasharray="0 12"/>'),
    "fill-and-white-stroke": svg('<circle cx="50" cy="30" r="24" stroke="white" stroke-width="8"/><circle cx="50" cy="30" r="9" fill="white" stroke="black" stroke-width="3"/>'),
    "paint-order": svg('<circle cx="50" cy="30" r="20" stroke="white" stroke-width="10" paint-order="stroke"/>'),
    "thin-in-a-small-picture": svg('<path d="M3 12a9 9 0 1 0 18 0a9 9 0 1 0-18 0M12 7v5l3 3" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/>', 'width="24" height="24" viewBox="0 0 24 24"'),
    "small-in-a-large-picture": svg('<g transform="translate(200 90) scale(.9)" fill="none" stroke="black" stroke-width="5"><circle r="20"/><path d="M-10 0h20M0-10v20"/></g>', 'viewBox="0 0 300 200"'),
    "tiny-picture": svg('<circle cx=".5" cy=".5" r=".3" fill="none" stroke="black" stroke-width=".07"/>', 'viewBox="0 0 1 1"'),
    "huge-picture": svg('<circle cx="50000" cy="50000" r="30000" fill="none" stroke="black" stroke-width="7000"/>', 'viewBox="0 0 100000 100000"'),
    "many-rings": svg("".join(f'<circle cx="50" cy="30" r="{r}" fill="none" stroke="black"/>' for r in range(4, 29, 3))),
    # Clips
    "clip": svg('<clipPath id="c"><circle cx="50" cy="30" r="20"/></clipPath><rect x="20" y="20" width="60" height="50" clip-path="url(#c)"/>'),
    "clip-on-a-group": svg('<clipPath id="c"><rect x="20" y="10" width="60" height="30"/></clipPath><g clip-path="url(#c)"><circle cx="30" cy="30" r="20"/><circle cx="70" cy="30" r="20" fill="none" stroke="black" stroke-width="6"/></g>'),
    "clip-on-a-clip": svg('<clipPath id="a"><rect x="20" y="10" width="60" height="20"/></clipPath><clipPath id="b" clip-path="url(#a)"><circle cx="50" cy="30" r="25"/></clipPath><rect width="100" height="60" clip-path="url(#b)"/>'),
    "clip-on-its-child": svg('<clipPath id="a"><rect x="20" y="10" width="60" height="20"/></clipPath><clipPath id="b"><circle cx="50" cy="30" r="25" clip-path="url(#a)"/></clipPath><rect width="100" height="60" clip-path="url(#b)"/>'),
    "clip-even-odd": svg('<clipPath id="c"><path clip-rule="evenodd" d="M10 5h60v50h-60zM25 15h30v30h-30z"/></clipPath><rect width="100" height="60" clip-path="url(#c)"/>'),
    "clip-by-its-box": svg('<clipPath id="c" clipPathUnits="objectBoundingBox"><circle cx=".5" cy=".5" r=".4"/></clipPath><rect x="10" y="10" width="80" height="40" clip-path="url(#c)"/>'),
    "clip-with-use": svg('<defs><circle id="o" r="20"/></defs><clipPath id="c" transform="translate(10 0)"><use href="#o" x="40" y="30"/></clipPath><rect width="100" height="60" clip-path="url(#c)"/>'),
    "clip-turned": svg('<clipPath id="c"><rect x="40" y="20" width="20" height="20" transform="rotate(45 50 30)"/></clipPath><g transform="scale(1.2)"><rect width="100" height="60" clip-path="url(#c)"/></g>'),
    # Colours
    "colours": svg('<rect width="20" height="20" fill="#123"/><rect x="25" width="20" height="20" fill="rgb(200,0,0)"/><rect x="50" width="20" height="20" fill="hsl(120,100%,20%)"/><rect x="75" width="20" height="20" fill="rgb(10% 10% 60%)"/><rect y="30" width="20" height="20" fill="navy"/><rect x="25" y="30" width="20" height="20" fill="yellow"/><rect x="50" y="30" width="20" height="20" fill="#ff0000ff"/>'),
    "yellow-on-blue": svg('<rect x="10" y="5" width="80" height="50" fill="navy"/><path d="M50 10L60 45H40z" fill="gold"/>'),
    "half-seen": svg('<rect x="10" y="5" width="60" height="50"/><rect x="40" y="15" width="50" height="30" fill="white" opacity=".3"/><rect x="5" y="20" width="30" height="9" fill="#000" fill-opacity=".2"/>'),
    "gradient-of-darks": svg('<linearGradient id="g"><stop stop-color="#000"/><stop offset="1" stop-color="#700"/></linearGradient><circle cx="50" cy="30" r="25" fill="url(#g)"/>'),
    "gradient-on-a-gradient": svg('<linearGradient id="g"><stop stop-color="#fff"/><stop offset="1" style="stop-color:#ffc"/></linearGradient><radialGradient id="h" href="#g"/><rect x="10" y="5" width="80" height="50"/><circle cx="50" cy="30" r="20" fill="url(#h)"/>'),
}  # fmt: skip

REFUSED = {
    "gradient-from-dark-to-light": (svg('<linearGradient id="g"><stop stop-color="#000"/><stop offset="1" stop-color="#fff"/></linearGradient><circle r="25" fill="url(#g)"/>'), "gradient goes from dark to light"),
    "gradient-that-fades": (svg('<linearGradient id="g"><stop stop-color="#000"/><stop offset="1" stop-opacity="0"/></linearGradient><circle r="25" fill="url(#g)"/>'), "gradient goes from dark to light"),
    "all-white": (svg('<circle cx="50" cy="30" r="25" fill="white"/>'), "Everything in the drawing is light"),
    "blended": (svg('<rect width="50" height="50"/><circle cx="50" cy="30" r="25" fill="white" style="mix-blend-mode:difference"/>'), "mix-blend-mode: difference"),
    "filtered": (svg('<circle cx="50" cy="30" r="25" filter="url(#f)"/>'), "filter: url"),
    "masked": (svg('<circle cx="50" cy="30" r="25" mask="url(#m)"/>'), "mask: url"),
    "stroke-that-keeps-its-width": (svg('<path d="M0 0L9 5" transform="scale(9)" stroke="black" vector-effect="non-scaling-stroke"/>'), "vector-effect"),
    "geometry-in-a-style": (svg('<circle style="cx:50px;cy:30px;r:20px"/>'), "cx: 50px"),
    "transform-in-a-style": (svg('<rect width="9" height="9" style="transform:scale(2)"/>'), r"transform: scale\(2\)"),
    "variable-in-a-style": (svg('<rect width="9" height="9" style="fill:var(--ink)"/>'), r"fill: var\(--ink\)"),
    "animated-by-its-style": (svg('<rect width="9" height="9" style="animation:a 1s"/>'), "animation: a 1s"),
    "colour-unknown": (svg('<rect width="9" height="9" fill="blak"/>'), 'Found "blak" as a colour'),
    "colour-of-css-4": (svg('<rect width="9" height="9" fill="oklch(40% .2 30)"/>'), "as a colour"),
    "paint-from-context": (svg('<defs><rect id="r" width="9" height="9" fill="context-fill"/></defs><use href="#r"/>'), 'Found "context-fill" as a colour'),
    "paint-that-is-not-there": (svg('<rect width="9" height="9" fill="url(#none) red"/>'), "as a colour"),
    "unit-by-the-font": (svg('<rect width="2em" height="9"/>'), 'Found "2em"'),
    "arcs-at-joins": (svg('<path d="M0 0L9 5L0 9" stroke="black" stroke-linejoin="arcs"/>'), 'A stroke has "arcs"'),
    "negative-dash": (svg('<path d="M0 0L9 5L0 9" stroke="black" stroke-dasharray="5 -1"/>'), 'A stroke has "5 -1"'),
    "dashes-by-a-length-of-its-own": (svg('<path d="M0 0L90 50" pathLength="10" stroke="black" stroke-dasharray="1"/>'), "A stroke has"),
    "countless-dashes": (svg('<path d="M0 0H90" stroke="black" stroke-dasharray="0.001"/>'), "more than 1000 dashes"),
    "path-cut-short": (svg('<path d="M0 0H90V50L"/>'), "path cannot be read"),
    "path-that-starts-elsewhere": (svg('<path d="L0 0H90V50"/>'), "path cannot be read"),
    "half-a-point": (svg('<polygon points="0,0 90,0 50"/>'), "odd count of numbers"),
    "negative-radius": (svg('<ellipse cx="50" cy="30" rx="-5" ry="9"/>'), "below 0"),
    "radius-as-the-other": (svg('<rect x="5" y="5" width="80" height="50" rx="auto" ry="20"/>'), 'Found "auto"'),
    "other-radius-as-this-one": (svg('<ellipse cx="50" cy="30" rx="20" ry="auto"/>'), 'Found "auto"'),
    "radius-of-no-kind": (svg('<rect x="5" y="5" width="80" height="50" rx="" ry="20"/>'), 'Found ""'),
    "negative-corner": (svg('<rect x="5" y="5" width="80" height="50" rx="-5" ry="20"/>'), "below 0"),
    "background": (svg('<rect width="30" height="30"/>', 'viewBox="0 0 100 60" style="background: black"'), 'has "background: black"'),
    "background-colour": (svg('<rect width="30" height="30"/>', 'viewBox="0 0 100 60" style="Background-Color:#123!important"'), 'has "background-color: #123"'),
    "border": (svg('<rect width="30" height="30"/>', 'viewBox="0 0 100 60" style="border:2px solid"'), 'has "border: 2px solid"'),
    "no-size": (svg('<rect width="9" height="9"/>', ""), "does not say how large it is"),
    "view-box-of-three": (svg('<rect width="9" height="9"/>', 'viewBox="0 0 9"'), 'Found "0 0 9"'),
    "transform-of-the-whole": (svg('<rect width="9" height="9"/>', 'viewBox="0 0 20 20" transform="scale(2)"'), "The whole drawing has a transform"),
    "transform-of-another-kind": (svg('<rect width="9" height="9" transform="translate3d(1 2 3)"/>'), "transform: translate3d"),
    "for-some-readers": (svg('<rect width="9" height="9" systemLanguage="tlh"/>'), "shown to some readers only"),
    "clip-of-a-group": (svg('<clipPath id="c"><g><rect width="9" height="9"/></g></clipPath><rect width="20" height="20" clip-path="url(#c)"/>'), 'A clip is made with "<g>"'),
    "clip-that-is-not-there": (svg('<rect width="9" height="9" clip-path="url(#c)"/>'), "A clip is made with"),
    "clip-of-css": (svg('<rect width="9" height="9" clip-path="circle(3)"/>'), "A clip is made with"),
    "clip-by-a-groups-box": (svg('<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width=".5" height=".5"/></clipPath><g clip-path="url(#c)"><rect width="20" height="20"/></g>'), "clipped by its own bounds"),
    "clip-that-clips-itself": (svg('<clipPath id="c" clip-path="url(#c)"><rect width="9" height="9"/></clipPath><rect width="20" height="20" clip-path="url(#c)"/>'), "uses itself"),
    "clipped-to-nothing": (svg('<clipPath id="c"/><rect width="20" height="20" clip-path="url(#c)"/>'), "holds no shape"),
    "beyond-the-picture": (svg('<rect x="200" width="20" height="20"/>'), "holds no shape"),
}  # fmt: skip
