bayleaf.words("mi",{"middle":"1:e;2:i;3:i","min":"3:e","minus":"0:f"});
