bayleaf.words("65",{"65":"2:0,f"});
