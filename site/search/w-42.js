bayleaf.words("42",{"420":"2:f"});
