"""The words of the house as frozen records: machine, diagnosis, quantities, device kinds."""
