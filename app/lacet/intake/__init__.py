"""How an operator's own material comes in and goes out: sheets and GPX files.

This room turns files into library items and says what is wrong with them. It never keeps anything: what
it returns is handed to the store by the command line, the window or the demo.
"""
