bayleaf.words("75",{"75":"2:0,f"});
