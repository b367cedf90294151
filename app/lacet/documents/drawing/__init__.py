"""Maps and profiles for paper and page, drawn as SVG that a typesetter and a browser show alike. No Qt.

What is drawn is read from the assessment's figures and the catalogue's tracks; nothing is computed here that
a guest would plan by. Drawings use plain attributes only: no styles, scripts, ids or links, so that several
stand in one page under a strict content policy.
"""
