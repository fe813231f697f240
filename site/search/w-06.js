bayleaf.words("06",{"06":"2:0"});
