"""What the analyser makes of a tree and every plan and paper reads: frozen data, no input or output."""
