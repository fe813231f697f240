bayleaf.words("26",{"26":"3:k"});
