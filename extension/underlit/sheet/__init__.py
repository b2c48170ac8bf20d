"""The making sheet: what is printed for the hand that makes the card.

Glossary. A *scene* is the card as the hand sees it while working (mirrored where the circuit lies
on the back of its sheet). A *page* is plain frozen data in mm: lines, areas, discs, words. A *book*
is all pages; `pdf` and `svg` turn it into bytes. A *tape* is a strip with its label (P1, M2).
*Supplies* are what one card and a batch of cards take.

Sizes of letters come from the fonts of the PDF library (Bitstream Vera, free to embed), which is
imported late: nothing else of the tool needs it.
"""
