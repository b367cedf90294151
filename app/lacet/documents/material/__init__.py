"""What a proposal says, ready to print: texts and figures in the reader's language, drawings, pictures.

Its rule: templates only set what stands here. Nothing is reckoned, translated or left out after this room,
and no net price, margin or commission comes into it.
"""

from lacet.documents.material.gather import gather
from lacet.documents.material.values import ProposalMaterial

__all__ = ["ProposalMaterial", "gather"]
