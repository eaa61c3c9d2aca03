"""What a press file paints, in its order: `text` with its way of showing (0 seen, 3 unseen), `picture` with its size and inks."""

import sys

import pikepdf


def main(path):
    with pikepdf.open(path) as pdf:
        page = pdf.pages[0]
        mode = "0"
        for operands, operator in pikepdf.parse_content_stream(page):
            name = str(operator)
            if name == "Tr":
                mode = str(operands[0])
            elif name == "BT":
                mode = "0"
            elif name == "TJ":
                print("text", mode)
            elif name == "Do":
                drawn = page.Resources.XObject[operands[0]]
                space = drawn.get("/ColorSpace", "")
                inks = "+".join(str(ink)[1:] for ink in space[1]) if isinstance(space, pikepdf.Array) else str(space)[1:]
                print("picture", int(drawn.Width), int(drawn.Height), inks.replace(" ", "_"))


if __name__ == "__main__":
    main(*sys.argv[1:])
