"""The proposal: the material of a trip as one web page and as a PDF, and the making of both."""
