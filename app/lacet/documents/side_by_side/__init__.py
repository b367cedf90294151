"""Variants side by side as a document: a page, a sheet of paper, a workbook, all from one `SideBySide`.

A copy for clients holds no margin; the office's says on its face that it does.
"""
