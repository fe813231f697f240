bayleaf.words("59",{"59":"2:f"});
