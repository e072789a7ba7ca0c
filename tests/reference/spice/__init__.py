"""The operating point against ngspice: netlists written from the file by code of their own."""
