bayleaf.words("80",{"80":"2:f"});
